import { TankwardError } from '@/lib/errors'
import { siOf, type Unit } from '@/lib/units'
import { fromBits, toBits } from './codec-bits'
import { fromPlanes } from './codec-planes'

/** Samples a chunk: large enough to pack well, small enough to be unpacked for a glance. */
export const CHUNK_SAMPLES = 8192

const VERSION = 1
const HEADER_BYTES = 24
const FLOAT64 = 0
/** Whole numbers in planes of bytes, as chunks were written until 28 November 2026: read, no longer written. */
const PLANES = 1
/** Whole numbers in as few bits as each block needs. */
const BITS = 2
const MOST_DECIMALS = 6
const LARGEST_WHOLE = 2 ** 31 - 1
/** Stands for NaN among the whole numbers of {@link PLANES}. */
const MISSING = -(2 ** 31)
const MASK_BITS = 32

let room = new Int32Array(CHUNK_SAMPLES)

/** Whole numbers k with (k / 10^decimals) · factor + offset equal to every value to the last bit. */
interface Whole {
  /** As many as there are values; good until the next chunk is encoded. */
  readonly numbers: Int32Array
  /** A bit for each value, set where it is NaN and the number before it repeated; null where none is. */
  readonly missing: Uint32Array | null
}

const HAS_MISSING = 1
const NOT_WHOLE = 2

/**
 * The loop of {@link wholeNumbers}, by itself as that of {@link encodeRounded}: with more behind it, V8 leaves the quick code
 * of a loop at its end for every single chunk of a long log.
 * @param numbers where the whole numbers go, the one before again for NaN
 * @param missing a bit for each value, set where it is NaN
 * @returns HAS_MISSING where a value is; NOT_WHOLE, and no more done, where one does not come back exactly
 */
function wholeInto(
  values: Float64Array,
  { factor, offset }: { readonly factor: number; readonly offset: number },
  power: number,
  numbers: Int32Array,
  missing: Uint32Array,
): number {
  let holds = 0
  let before = 0
  for (let i = 0; i < values.length; i++) {
    const value = values[i]
    if (Number.isNaN(value)) {
      holds = HAS_MISSING
      missing[i >>> 5] |= 1 << (i & 31)
      numbers[i] = before
      continue
    }
    const k = Math.round(((value - offset) / factor) * power)
    if (!(Math.abs(k) <= LARGEST_WHOLE) || !Object.is((k / power) * factor + offset, value)) return NOT_WHOLE
    numbers[i] = k
    before = k
  }
  return holds
}

function wholeNumbers(values: Float64Array, unit: Unit, decimals: number): Whole | null {
  if (room.length < values.length) room = new Int32Array(values.length)
  const missing = new Uint32Array(Math.ceil(values.length / MASK_BITS))
  const holds = wholeInto(values, siOf(unit), 10 ** decimals, room, missing)
  if (holds === NOT_WHOLE) return null
  return { numbers: room, missing: holds === HAS_MISSING ? missing : null }
}

function bitsBody({ numbers, missing }: Whole, count: number): Uint8Array {
  const bits = toBits(numbers, count)
  if (missing === null) return bits
  const body = new Uint8Array(missing.byteLength + bits.length)
  body.set(new Uint8Array(missing.buffer))
  body.set(bits, missing.byteLength)
  return body
}

interface Header {
  readonly encoding: number
  readonly decimals: number
  readonly hasMissing: boolean
  readonly unit: Unit
  readonly count: number
}

function withHeader({ encoding, decimals, hasMissing, unit, count }: Header, body: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(HEADER_BYTES + body.length)
  const header = new DataView(bytes.buffer)
  const { factor, offset } = siOf(unit)
  header.setUint8(0, VERSION)
  header.setUint8(1, encoding)
  header.setUint8(2, decimals)
  header.setUint8(3, hasMissing ? 1 : 0)
  header.setUint32(4, count, true)
  header.setFloat64(8, factor, true)
  header.setFloat64(16, offset, true)
  bytes.set(body, HEADER_BYTES)
  return bytes
}

function asTheyAre(values: Float64Array, unit: Unit): Uint8Array {
  const count = values.length
  const body = new Uint8Array(count * Float64Array.BYTES_PER_ELEMENT)
  const view = new DataView(body.buffer)
  for (let i = 0; i < count; i++) view.setFloat64(i * 8, values[i], true)
  return withHeader({ encoding: FLOAT64, decimals: 0, hasMissing: false, unit, count }, body)
}

/**
 * Samples in SI as bytes that come back to the last bit, NaN included (which NaN is not kept). A logger writes
 * decimals in its own unit, so the values are stored as whole numbers of that unit's last decimal where all of
 * them come back exactly, packed as close as they go; else as they are (float64).
 * @param unit the unit the values were logged in
 */
export function encodeChunk(values: Float64Array, unit: Unit): Uint8Array {
  const count = values.length
  for (let decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
    const whole = wholeNumbers(values, unit, decimals)
    if (whole === null) continue
    const hasMissing = whole.missing !== null
    return withHeader({ encoding: BITS, decimals, hasMissing, unit, count }, bitsBody(whole, count))
  }
  return asTheyAre(values, unit)
}

/**
 * The loop of {@link encodeRounded}.
 * @param numbers where the whole numbers go, the one before again for NaN
 * @param missing a bit for each value, set where it is NaN
 * @returns HAS_MISSING and NOT_WHOLE, where they hold
 */
function roundInto(values: Float64Array, power: number, numbers: Int32Array, missing: Uint32Array): number {
  let holds = 0
  let before = 0
  for (let i = 0; i < values.length; i++) {
    const k = Math.round(values[i] * power)
    // Without + 0 a trifle below nil would be -0, which no whole number is.
    values[i] = k / power + 0
    if (k <= LARGEST_WHOLE && k >= -LARGEST_WHOLE) before = k
    else if (Number.isNaN(k)) {
      holds |= HAS_MISSING
      missing[i >>> 5] |= 1 << (i & 31)
    } else holds |= NOT_WHOLE
    numbers[i] = before
  }
  return holds
}

/**
 * Rounds samples of an SI unit, in place, to whole numbers of a decimal of theirs and encodes them: for series that are
 * worked out, whose many digits say nothing.
 */
export function encodeRounded(values: Float64Array, decimals: number): Uint8Array {
  const count = values.length
  if (room.length < count) room = new Int32Array(count)
  const numbers = room
  const mask = new Uint32Array(Math.ceil(count / MASK_BITS))
  const holds = roundInto(values, 10 ** decimals, numbers, mask)
  if (holds & NOT_WHOLE) return asTheyAre(values, '1')
  const hasMissing = (holds & HAS_MISSING) !== 0
  return withHeader(
    { encoding: BITS, decimals, hasMissing, unit: '1', count },
    bitsBody({ numbers, missing: hasMissing ? mask : null }, count),
  )
}

/** Whether an encoded chunk is worth packing again: float64 is, bits are as close as they go. */
export const isLoose = (chunk: Uint8Array): boolean => chunk[1] === FLOAT64

function decodePlanes(body: Uint8Array, power: number, factor: number, offset: number): Float64Array {
  const whole = fromPlanes(body)
  const values = new Float64Array(whole.length)
  for (let i = 0; i < whole.length; i++)
    values[i] = whole[i] === MISSING ? Number.NaN : (whole[i] / power) * factor + offset
  return values
}

function decodeBits(header: DataView, bytes: Uint8Array, count: number): Float64Array {
  const maskBytes = header.getUint8(3) === 1 ? Math.ceil(count / MASK_BITS) * 4 : 0
  const whole = fromBits(bytes.subarray(HEADER_BYTES + maskBytes), count)
  if (whole === null) throw new TankwardError('chunk-damaged', { count, actual: bytes.length })
  const power = 10 ** header.getUint8(2)
  const factor = header.getFloat64(8, true)
  const offset = header.getFloat64(16, true)
  const values = new Float64Array(count)
  for (let i = 0; i < count; i++) values[i] = (whole[i] / power) * factor + offset
  if (maskBytes === 0) return values
  for (let i = 0; i < count; i++) {
    if (header.getUint8(HEADER_BYTES + (i >>> 3)) & (1 << (i & 7))) values[i] = Number.NaN
  }
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
  if (encoding > BITS || decimals > MOST_DECIMALS)
    throw new TankwardError('chunk-damaged', { encoding, decimals })
  const count = header.getUint32(4, true)
  if (encoding === BITS) return decodeBits(header, bytes, count)
  const size = encoding === PLANES ? Int32Array.BYTES_PER_ELEMENT : Float64Array.BYTES_PER_ELEMENT
  const expected = HEADER_BYTES + count * size
  if (bytes.length !== expected) throw new TankwardError('chunk-damaged', { expected, actual: bytes.length })
  if (encoding === PLANES) {
    const body = bytes.subarray(HEADER_BYTES)
    return decodePlanes(body, 10 ** decimals, header.getFloat64(8, true), header.getFloat64(16, true))
  }
  const values = new Float64Array(count)
  for (let i = 0; i < count; i++) values[i] = header.getFloat64(HEADER_BYTES + i * 8, true)
  return values
}
