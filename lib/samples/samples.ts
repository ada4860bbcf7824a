/** Samples of a logger whose readings are few distinct ones: 2 bytes each instead of 8. */
export interface CodedSamples {
  readonly kind: 'coded'
  /** By sample: the place of its reading in the table. */
  readonly codes: Uint16Array
  readonly table: Float64Array
  /** By code: 1 where a sample has it, or had it before it was changed. */
  readonly occurs: Uint8Array
  readonly length: number
}

/** Times in s that follow each other evenly: sample i is at (i · step) / perS, to the last bit. */
export interface EvenTimes {
  readonly kind: 'even-times'
  readonly step: number
  readonly perS: number
  readonly length: number
}

/** How long samples at even times hold, s: each until the next, the last one for `lastS`. */
export interface EvenHolds {
  readonly kind: 'even-holds'
  readonly step: number
  readonly perS: number
  readonly lastS: number
  readonly length: number
}

/** The code of a missing reading; every table has NaN there. */
export const MISSING_CODE = (1 << 16) - 1

/** A channel's readings, held in as little room as gives each of them back to the last bit; NaN where one is missing. */
export type ChannelSamples = Float64Array | CodedSamples
/** Numbers of a recording, one a sample. */
export type Samples = ChannelSamples | EvenTimes | EvenHolds

/** Samples worth decoding at a time: few enough to stay in the processor's cache. */
export const READ_AT_ONCE = 4096
const NONE = new Float64Array(0)

/** Reads samples however they are held; quick for one after the other and for any one. */
export class SampleReader {
  readonly length: number
  private readonly codes: Uint16Array | null = null
  private readonly table: Float64Array | null = null
  private readonly occurs: Uint8Array | null = null
  private readonly step: number = 0
  private readonly perS: number = 1
  /** NaN for times. */
  private readonly lastS: number = Number.NaN
  private room = NONE

  constructor(samples: Samples) {
    this.length = samples.length
    if (samples instanceof Float64Array) {
      this.table = samples
      return
    }
    if (samples.kind === 'coded') {
      this.codes = samples.codes
      this.table = samples.table
      this.occurs = samples.occurs
      return
    }
    this.step = samples.step
    this.perS = samples.perS
    if (samples.kind === 'even-holds') this.lastS = samples.lastS
  }

  /** One sample; undefined outside of them where they are held one by one, as of an array. */
  at(i: number): number {
    const { codes, table } = this
    if (table !== null) return table[codes === null ? i : codes[i]]
    return this.evenAt(i)
  }

  private evenAt(i: number): number {
    const { step, perS, lastS } = this
    if (Number.isNaN(lastS)) return (i * step) / perS
    return i === this.length - 1 ? lastS : ((i + 1) * step) / perS - (i * step) / perS
  }

  /** The samples [from, to): a view of them, or room that the next call writes over. */
  between(from: number, to: number): Float64Array {
    const { codes, table } = this
    if (table !== null && codes === null) return table.subarray(from, to)
    const count = to - from
    if (this.room.length < count) this.room = new Float64Array(count)
    this.copy(from, to, this.room, 0)
    return this.room.length === count ? this.room : this.room.subarray(0, count)
  }

  /** Writes the samples [from, to) to `into` from `at` on. */
  copy(from: number, to: number, into: Float64Array, at: number): void {
    const { codes, table } = this
    const shift = at - from
    if (table === null) this.copyEven(from, to, into, shift)
    else if (codes === null) into.set(table.subarray(from, to), at)
    else for (let i = from; i < to; i++) into[i + shift] = table[codes[i]]
  }

  private copyEven(from: number, to: number, into: Float64Array, shift: number): void {
    const { step, perS, lastS, length } = this
    if (Number.isNaN(lastS)) {
      for (let i = from; i < to; i++) into[i + shift] = (i * step) / perS
      return
    }
    for (let i = from, timeS = (from * step) / perS; i < to; i++) {
      const nextS = ((i + 1) * step) / perS
      into[i + shift] = nextS - timeS
      timeS = nextS
    }
    if (to === length && from < to) into[to - 1 + shift] = lastS
  }

  /** The place behind the samples from `from` on that are the same number; behind the first where that is none. */
  endOfRun(from: number): number {
    const { codes, table, length } = this
    let end = from + 1
    const value = this.at(from)
    if (table === null || Number.isNaN(value)) return end
    if (codes === null) {
      while (end < length && table[end] === value) end++
      return end
    }
    // Codes of unlike numbers differ, and nil has two.
    const code = codes[from]
    while (end < length && (codes[end] === code || (value === 0 && table[codes[end]] === 0))) end++
    return end
  }

  /** The place of the first missing reading; the length where none is. */
  firstMissing(): number {
    const { codes, table, length } = this
    if (codes !== null && !this.distinct().some(Number.isNaN)) return length
    let i = 0
    // By far the most are arrays with none missing: all of their numbers are looked at.
    if (codes === null && table !== null) {
      while (i < length && !Number.isNaN(table[i])) i++
      return i
    }
    while (i < length && !Number.isNaN(this.at(i))) i++
    return i
  }

  /** The samples' distinct numbers (and some they had before they were changed) where they are held by those, else the samples. */
  distinct(): Float64Array {
    const { table, occurs } = this
    if (occurs === null || table === null) return this.between(0, this.length)
    const numbers = new Float64Array(table.length)
    let count = 0
    for (let code = 0; code < occurs.length; code++) if (occurs[code] === 1) numbers[count++] = table[code]
    return numbers.subarray(0, count)
  }
}

export const readerOf = (samples: Samples): SampleReader => new SampleReader(samples)

/** All samples in one array: the array itself where they are one. */
export function inFull(samples: Samples): Float64Array {
  if (samples instanceof Float64Array) return samples
  const all = new Float64Array(samples.length)
  readerOf(samples).copy(0, samples.length, all, 0)
  return all
}

/** Readings of one's own to write to. */
export const copyOf = (readings: ChannelSamples): ChannelSamples =>
  readings instanceof Float64Array
    ? readings.slice()
    : { ...readings, codes: readings.codes.slice(), occurs: readings.occurs.slice() }

/** Puts one of the readings in the place of those at [from, to). */
export function repeatReading(readings: ChannelSamples, source: number, from: number, to: number): void {
  if (readings instanceof Float64Array) readings.fill(readings[source], from, to)
  else readings.codes.fill(readings.codes[source], from, to)
}

/** Takes the readings at [from, to) out. */
export function dropReadings(readings: ChannelSamples, from: number, to: number): void {
  if (readings instanceof Float64Array) readings.fill(Number.NaN, from, to)
  else {
    readings.codes.fill(MISSING_CODE, from, to)
    readings.occurs[MISSING_CODE] = 1
  }
}

/** A copy of the readings without those beyond a limit; the readings themselves where there is none. */
export function without(readings: ChannelSamples, isBeyond: (reading: number) => boolean): ChannelSamples {
  const numbersIn = readerOf(readings).distinct()
  let first = 0
  while (first < numbersIn.length && !isBeyond(numbersIn[first])) first++
  if (first === numbersIn.length) return readings
  const left = copyOf(readings)
  const changed = left instanceof Float64Array ? left : { ...left, table: left.table.slice() }
  const numbers = changed instanceof Float64Array ? changed : changed.table
  for (let i = 0; i < numbers.length; i++) if (isBeyond(numbers[i])) numbers[i] = Number.NaN
  return changed
}

/** All samples added up, in their order. */
export function sumOf(samples: Samples): number {
  const reader = readerOf(samples)
  // Kept in an array: a loop that is compiled while it runs makes an object of each sum it carries along.
  const sum = new Float64Array(1)
  for (let from = 0; from < reader.length; from += READ_AT_ONCE) {
    const block = reader.between(from, Math.min(from + READ_AT_ONCE, reader.length))
    for (let i = 0; i < block.length; i++) sum[0] += block[i]
  }
  return sum[0]
}
