import { type EvenTimes, inFull, type Samples } from './samples'
import type { Gap } from './trace'

/** A step this many intervals long is a stretch without samples. */
const GAP_INTERVALS = 2.5
/** Beyond this many steps the median is taken of a spread of them. */
const MOST_STEPS = 65_536
const GOLDEN = (Math.sqrt(5) - 1) / 2
/** Decimal places to which an interval in s is taken: below any logger's clock. */
const RESOLUTION = 1e9

export interface Timeline {
  readonly sampleIntervalS: number
  /** How long each sample holds. */
  readonly holdS: Float64Array
  readonly gaps: Gap[]
}

const rounded = (stepS: number): number => Math.round(stepS * RESOLUTION) / RESOLUTION

/** Median of the steps; of very many the median of evenly scattered ones (same ones every time). */
function medianStep(stepS: Float64Array): number {
  const count = stepS.length
  const taken = Math.min(count, MOST_STEPS)
  const steps = new Float64Array(taken)
  for (let i = 0; i < taken; i++) {
    steps[i] = stepS[taken === count ? i : Math.floor(((i * GOLDEN) % 1) * count)]
  }
  steps.sort()
  const middle = taken >> 1
  return rounded(taken % 2 === 1 ? steps[middle] : (steps[middle - 1] + steps[middle]) / 2)
}

/**
 * Interval, holds and gaps of a rising time axis in s. A step longer than 2.5 intervals is a gap: it
 * starts one interval after the sample before it and ends at the next sample. A sample holds until
 * the next one, or one interval where a gap or the end follows.
 */
export function timeline(timeS: Float64Array): Timeline {
  const n = timeS.length
  const holdS = new Float64Array(n)
  if (n < 2) return { sampleIntervalS: 0, holdS, gaps: [] }
  let shortest = Number.POSITIVE_INFINITY
  let longest = 0
  for (let i = 0; i < n - 1; i++) {
    const step = timeS[i + 1] - timeS[i]
    holdS[i] = step
    if (step < shortest) shortest = step
    if (step > longest) longest = step
  }
  // Of steps that are all alike none needs to be sought, and none is a gap.
  const alike = rounded(shortest) === rounded(longest)
  const sampleIntervalS = alike ? rounded(longest) : medianStep(holdS.subarray(0, n - 1))
  holdS[n - 1] = sampleIntervalS
  const gaps: Gap[] = []
  if (!(longest > GAP_INTERVALS * sampleIntervalS)) return { sampleIntervalS, holdS, gaps }
  for (let i = 0; i < n - 1; i++) {
    if (!(holdS[i] > GAP_INTERVALS * sampleIntervalS)) continue
    holdS[i] = sampleIntervalS
    gaps.push({ startS: timeS[i] + sampleIntervalS, endS: timeS[i + 1] })
  }
  return { sampleIntervalS, holdS, gaps }
}

/** Times of a recording with what follows from them, in little room where they are even. */
export interface HeldTimes {
  readonly timeS: Samples
  readonly sampleIntervalS: number
  readonly holdS: Samples
  readonly gaps: readonly Gap[]
}

/** From so many samples on room matters more than the time to work each of them out. */
const LONG = 1 << 22
/** Times are decimals of a second down to a tenth of a microsecond, as they are read. */
const PER_S = 1e7

/** Even times of a long recording, which need no array; null where it is short, or they are no decimals. */
export function evenTimes(stepS: number, length: number): EvenTimes | null {
  const step = Math.round(stepS * PER_S)
  const isDecimal = step > 0 && step / PER_S === stepS
  return length >= LONG && isDecimal ? { kind: 'even-times', step, perS: PER_S, length } : null
}

/** Even times that come back to the last bit, or null. */
function evenlyHeld(timeS: Float64Array): EvenTimes | null {
  const even = evenTimes(timeS[1], timeS.length)
  if (even === null) return null
  for (let i = 0; i < timeS.length; i++) if ((i * even.step) / even.perS !== timeS[i]) return null
  return even
}

/** As {@link timeline}, of a long recording with even times without an array for either. */
export function heldTimes(timeS: Float64Array | EvenTimes): HeldTimes {
  const even = timeS instanceof Float64Array ? evenlyHeld(timeS) : timeS
  if (even === null) return { timeS, ...timeline(inFull(timeS)) }
  const { step, perS, length } = even
  // Steps that are alike but for the rounding of each time.
  const sampleIntervalS = rounded(step / perS)
  return {
    timeS: even,
    sampleIntervalS,
    holdS: { kind: 'even-holds', step, perS, lastS: sampleIntervalS, length },
    gaps: [],
  }
}
