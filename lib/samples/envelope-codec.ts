import { TankwardError } from '@/lib/errors'
import type { Unit } from '@/lib/units'
import { decodeChunk, encodeChunk, isLoose } from './codec'
import { fromBits, toBits } from './codec-bits'
import type { Cells } from './envelope'

const PARTS = 4
const LENGTHS_BYTES = PARTS * Uint32Array.BYTES_PER_ELEMENT

/** Added to the length of the means where they are packed as bits; until 28 November 2026 they lay there as bare float32. */
const AS_BITS = 2 ** 31

/** Means are kept to single precision: they are drawn, and sums are never taken from them. */
const singles = (values: Float64Array): Uint8Array => toBits(new Int32Array(Float32Array.from(values).buffer))

function fromSingles(bytes: Uint8Array, count: number, areBits: boolean): Float64Array | null {
  if (areBits) {
    const whole = fromBits(bytes, count)
    return whole && Float64Array.from(new Float32Array(whole.buffer))
  }
  if (bytes.length !== count * 4) return null
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  return Float64Array.from({ length: count }, (_, i) => view.getFloat32(i * 4, true))
}

/** A stretch of cells as bytes; extremes and counts come back to the last bit. */
export function encodeCells(cells: Cells, unit: Unit): Uint8Array {
  const parts = [
    encodeChunk(cells.min, unit),
    encodeChunk(cells.max, unit),
    encodeChunk(cells.valid, '1'),
    singles(cells.mean),
  ]
  const bytes = new Uint8Array(LENGTHS_BYTES + parts.reduce((sum, part) => sum + part.length, 0))
  const view = new DataView(bytes.buffer)
  let at = LENGTHS_BYTES
  parts.forEach((part, index) => {
    view.setUint32(index * 4, part.length + (index === PARTS - 1 ? AS_BITS : 0), true)
    bytes.set(part, at)
    at += part.length
  })
  return bytes
}

/** Whether encoded cells are worth packing again. */
export const areLoose = (cells: Uint8Array): boolean => isLoose(cells.subarray(LENGTHS_BYTES))

/**
 * The cells that {@link encodeCells} stored.
 * @throws TankwardError `chunk-damaged` where lengths do not agree
 */
export function decodeCells(bytes: Uint8Array): Cells {
  if (bytes.length < LENGTHS_BYTES)
    throw new TankwardError('chunk-damaged', { expected: LENGTHS_BYTES, actual: bytes.length })
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const parts: Uint8Array[] = []
  let at = LENGTHS_BYTES
  let areBits = false
  for (let index = 0; index < PARTS; index++) {
    const length = view.getUint32(index * 4, true)
    areBits = index === PARTS - 1 && length >= AS_BITS
    const end = at + (areBits ? length - AS_BITS : length)
    parts.push(bytes.subarray(at, end))
    at = end
  }
  if (at !== bytes.length) throw new TankwardError('chunk-damaged', { expected: at, actual: bytes.length })
  const min = decodeChunk(parts[0])
  const max = decodeChunk(parts[1])
  const valid = decodeChunk(parts[2])
  const mean = fromSingles(parts[3], min.length, areBits)
  if (max.length !== min.length || valid.length !== min.length || mean === null)
    throw new TankwardError('chunk-damaged', { expected: min.length, actual: max.length })
  return { min, max, valid, mean }
}
