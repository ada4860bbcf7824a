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

/** Median step; of very long axes the median of evenly scattered steps (same ones every time). */
function medianStep(timeS: Float64Array): number {
  const count = timeS.length - 1
  if (count < 1) return 0
  const taken = Math.min(count, MOST_STEPS)
  const steps = new Float64Array(taken)
  for (let i = 0; i < taken; i++) {
    const at = taken === count ? i : Math.floor(((i * GOLDEN) % 1) * count)
    steps[i] = timeS[at + 1] - timeS[at]
  }
  steps.sort()
  const middle = taken >> 1
  const median = taken % 2 === 1 ? steps[middle] : (steps[middle - 1] + steps[middle]) / 2
  return Math.round(median * RESOLUTION) / RESOLUTION
}

/**
 * Interval, holds and gaps of a rising time axis in s. A step longer than 2.5 intervals is a gap: it
 * starts one interval after the sample before it and ends at the next sample. A sample holds until
 * the next one, or one interval where a gap or the end follows.
 */
export function timeline(timeS: Float64Array): Timeline {
  const n = timeS.length
  const sampleIntervalS = medianStep(timeS)
  const holdS = new Float64Array(n)
  const gaps: Gap[] = []
  for (let i = 0; i < n - 1; i++) {
    const step = timeS[i + 1] - timeS[i]
    if (step > GAP_INTERVALS * sampleIntervalS) {
      holdS[i] = sampleIntervalS
      gaps.push({ startS: timeS[i] + sampleIntervalS, endS: timeS[i + 1] })
    } else holdS[i] = step
  }
  if (n > 0) holdS[n - 1] = sampleIntervalS
  return { sampleIntervalS, holdS, gaps }
}
