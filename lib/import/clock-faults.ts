import { LONGEST_PAUSE_MS, MS_PER_S } from './clock'
import { typicalStepMs } from './order-rows'
import type { ProblemLog } from './problem-log'

/** From this share of far steps on the rows are in no order, and a leap says nothing of a single stamp. */
const MOST_FAR = 0.05

/** True where a stamp fills a place that the others leave open: a row written out of turn, not a wrong time. */
function fillsHole(sorted: Float64Array, stamp: number, stepMs: number): boolean {
  let low = 0
  let high = sorted.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (sorted[middle] < stamp) low = middle + 1
    else high = middle
  }
  const before = stamp - (sorted[low - 1] ?? Number.NEGATIVE_INFINITY)
  const after = (sorted[low + 1] ?? Number.POSITIVE_INFINITY) - stamp
  return Math.min(before, after) > stepMs * 0.25 && Math.max(before, after) < stepMs * 3
}

/** True where no stamp lies before the one above it: none of them leaps away and comes back. */
export function neverFalls(stamps: Float64Array): boolean {
  for (let i = 1; i < stamps.length; i++) if (stamps[i] < stamps[i - 1]) return false
  return true
}

/** True where every stamp is a number above the one before: such rows are in order, each once. */
export function alwaysRises(stamps: Float64Array): boolean {
  let previous = Number.NEGATIVE_INFINITY
  for (let i = 0; i < stamps.length; i++) {
    const stamp = stamps[i]
    if (!(stamp > previous)) return false
    previous = stamp
  }
  return true
}

/**
 * Rows of which a single stamp leaps away and the next row comes back: that one time is wrong.
 * @returns flags, or null where there is none
 */
export function leapingRows(stamps: Float64Array, stepMs: number): Uint8Array | null {
  let flags: Uint8Array | null = null
  let sorted: Float64Array | null = null
  const far = 100 * stepMs
  const near = 3 * stepMs
  const last = stamps.length - 1
  let farSteps = 0
  for (let i = 1; i <= last; i++) if (Math.abs(stamps[i] - stamps[i - 1]) > far) farSteps++
  if (farSteps === 0 || (farSteps > 20 && farSteps > last * MOST_FAR)) return null
  for (let i = 0; i < last && last >= 2; i++) {
    const before = i === 0 ? Number.NaN : stamps[i] - stamps[i - 1]
    const after = stamps[i + 1] - stamps[i]
    const leap =
      i === 0
        ? Math.abs(after) > far && after < 0 && stamps[2] >= stamps[1] && stamps[2] - stamps[1] <= near
        : Math.abs(before) > far && Math.abs(after) > far && Math.abs(stamps[i + 1] - stamps[i - 1]) <= near
    if (!leap) continue
    sorted ??= stamps.slice().sort()
    if (fillsHole(sorted, stamps[i], stepMs)) continue
    flags ??= new Uint8Array(stamps.length)
    flags[i] = 1
    i++
  }
  return flags
}

/**
 * A logger whose clock was never set begins on the first of January of some past year and leaps to the
 * true date when it is set. Its first rows are moved up to the row that follows them, in place.
 */
export function mendUnsetClock(
  stamps: Float64Array,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): void {
  const first = new Date(stamps[0])
  if (first.getUTCMonth() !== 0 || first.getUTCDate() !== 1) return
  for (let i = 1; i < stamps.length; i++) {
    const leap = stamps[i] - stamps[i - 1]
    if (leap < LONGEST_PAUSE_MS) continue
    const shift = leap - typicalStepMs(stamps)
    for (let k = 0; k < i; k++) stamps[k] += shift
    problems.add('clock-unset', { line: lineOf(0), count: i, values: { seconds: shift / MS_PER_S } })
    return
  }
}
