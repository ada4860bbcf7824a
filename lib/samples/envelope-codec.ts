import { TankwardError } from '@/lib/errors'
import type { Unit } from '@/lib/units'
import { decodeChunk, encodeChunk } from './codec'
import type { Cells } from './envelope'

const PARTS = 4
const LENGTHS_BYTES = PARTS * Uint32Array.BYTES_PER_ELEMENT

/** Means are kept to single precision: they are drawn, and sums are never taken from them. */
function toSingle(values: Float64Array): Uint8Array {
  const bytes = new Uint8Array(values.length * 4)
  const view = new DataView(bytes.buffer)
  for (let i = 0; i < values.length; i++) view.setFloat32(i * 4, values[i], true)
  return bytes
}

function fromSingle(bytes: Uint8Array): Float64Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const values = new Float64Array(bytes.length / 4)
  for (let i = 0; i < values.length; i++) values[i] = view.getFloat32(i * 4, true)
  return values
}

/** A stretch of cells as bytes, to be gzipped; extremes and counts come back to the last bit. */
export function encodeCells(cells: Cells, unit: Unit): Uint8Array {
  const parts = [
    encodeChunk(cells.min, unit),
    encodeChunk(cells.max, unit),
    encodeChunk(cells.valid, '1'),
    toSingle(cells.mean),
  ]
  const bytes = new Uint8Array(LENGTHS_BYTES + parts.reduce((sum, part) => sum + part.length, 0))
  const view = new DataView(bytes.buffer)
  let at = LENGTHS_BYTES
  parts.forEach((part, index) => {
    view.setUint32(index * 4, part.length, true)
    bytes.set(part, at)
    at += part.length
  })
  return bytes
}

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
  for (let index = 0; index < PARTS; index++) {
    const length = view.getUint32(index * 4, true)
    parts.push(bytes.subarray(at, at + length))
    at += length
  }
  if (at !== bytes.length) throw new TankwardError('chunk-damaged', { expected: at, actual: bytes.length })
  const cells = {
    min: decodeChunk(parts[0]),
    max: decodeChunk(parts[1]),
    valid: decodeChunk(parts[2]),
    mean: fromSingle(parts[3]),
  }
  const count = cells.min.length
  if (cells.max.length !== count || cells.valid.length !== count || cells.mean.length !== count)
    throw new TankwardError('chunk-damaged', { expected: count, actual: cells.mean.length })
  return cells
}
