import { TankwardError } from '@/lib/errors'
import { siOf, type Unit } from '@/lib/units'
import { fromPlanes, toPlanes } from './codec-planes'

/** Samples a chunk: large enough to pack well, small enough to be unpacked for a glance. */
export const CHUNK_SAMPLES = 8192

const VERSION = 1
const HEADER_BYTES = 24
const FLOAT64 = 0
const SCALED = 1
const MOST_DECIMALS = 6
const LARGEST_WHOLE = 2 ** 31 - 1
/** Stands for NaN among the whole numbers. */
const MISSING = -(2 ** 31)

/** Whole numbers k with (k / 10^decimals) · factor + offset equal to every value to the last bit, or null. */
function wholeNumbers(values: Float64Array, unit: Unit, decimals: number): Int32Array | null {
  const { factor, offset } = siOf(unit)
  const power = 10 ** decimals
  const whole = new Int32Array(values.length)
  for (let i = 0; i < values.length; i++) {
    const value = values[i]
    if (Number.isNaN(value)) {
      whole[i] = MISSING
      continue
    }
    const k = Math.round(((value - offset) / factor) * power)
    if (!(Math.abs(k) <= LARGEST_WHOLE) || !Object.is((k / power) * factor + offset, value)) return null
    whole[i] = k
  }
  return whole
}

function withHeader(encoding: number, decimals: number, unit: Unit, count: number, body: Uint8Array) {
  const bytes = new Uint8Array(HEADER_BYTES + body.length)
  const header = new DataView(bytes.buffer)
  const { factor, offset } = siOf(unit)
  header.setUint8(0, VERSION)
  header.setUint8(1, encoding)
  header.setUint8(2, decimals)
  header.setUint32(4, count, true)
  header.setFloat64(8, factor, true)
  header.setFloat64(16, offset, true)
  bytes.set(body, HEADER_BYTES)
  return bytes
}

/**
 * Samples in SI as bytes that come back to the last bit, NaN included (which NaN is not kept). A logger writes
 * decimals in its own unit, so the values are stored as whole numbers of that unit's last decimal where all of
 * them come back exactly, else as they are (float64). The bytes are meant to be gzipped by whoever stores them.
 * @param unit the unit the values were logged in
 */
export function encodeChunk(values: Float64Array, unit: Unit): Uint8Array {
  for (let decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
    const whole = wholeNumbers(values, unit, decimals)
    if (whole) return withHeader(SCALED, decimals, unit, values.length, toPlanes(whole))
  }
  const body = new Uint8Array(values.length * Float64Array.BYTES_PER_ELEMENT)
  const view = new DataView(body.buffer)
  for (let i = 0; i < values.length; i++) view.setFloat64(i * 8, values[i], true)
  return withHeader(FLOAT64, 0, unit, values.length, body)
}

function decodeScaled(body: Uint8Array, power: number, factor: number, offset: number): Float64Array {
  const whole = fromPlanes(body)
  const values = new Float64Array(whole.length)
  for (let i = 0; i < whole.length; i++)
    values[i] = whole[i] === MISSING ? Number.NaN : (whole[i] / power) * factor + offset
  return values
}

/**
 * The samples that {@link encodeChunk} stored.
 * @throws TankwardError `chunk-damaged` where version, encoding or length are not what they must be
 */
export function decodeChunk(bytes: Uint8Array): Float64Array {
  if (bytes.length < HEADER_BYTES)
    throw new TankwardError('chunk-damaged', { expected: HEADER_BYTES, actual: bytes.length })
  const header = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const version = header.getUint8(0)
  const encoding = header.getUint8(1)
  const decimals = header.getUint8(2)
  if (version !== VERSION) throw new TankwardError('chunk-damaged', { expected: VERSION, actual: version })
  if ((encoding !== FLOAT64 && encoding !== SCALED) || decimals > MOST_DECIMALS)
    throw new TankwardError('chunk-damaged', { encoding, decimals })
  const count = header.getUint32(4, true)
  const size = encoding === SCALED ? Int32Array.BYTES_PER_ELEMENT : Float64Array.BYTES_PER_ELEMENT
  const expected = HEADER_BYTES + count * size
  if (bytes.length !== expected) throw new TankwardError('chunk-damaged', { expected, actual: bytes.length })
  if (encoding === SCALED) {
    const body = bytes.subarray(HEADER_BYTES)
    return decodeScaled(body, 10 ** decimals, header.getFloat64(8, true), header.getFloat64(16, true))
  }
  const values = new Float64Array(count)
  for (let i = 0; i < count; i++) values[i] = header.getFloat64(HEADER_BYTES + i * 8, true)
  return values
}
