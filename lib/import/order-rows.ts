import { LONGEST_PAUSE_MS, MS_PER_S } from './clock'
import type { ProblemLog } from './problem-log'
import { inSequence } from './rows'

/** Rows in rising time: which rows are kept, in which order, and their stamps. */
export interface OrderedRows {
  readonly stampsMs: Float64Array
  readonly rows: Uint32Array
  readonly duplicates: number
}

/** Bounds that keep hopeless files (a clock that jumps at every row) linear in their rows. */
const MOST_SET_BACKS = 20_000
const LOOK_AHEAD = 1000
const LOOK_BACK = 64

/** Median step between distinct stamps, of a sorted copy. */
export function typicalStepMs(stamps: Float64Array): number {
  const sorted = stamps.slice().sort()
  const steps = new Float64Array(sorted.length)
  let count = 0
  for (let i = 1; i < sorted.length; i++) {
    const step = sorted[i] - sorted[i - 1]
    if (step > 0) steps[count++] = step
  }
  if (count === 0) return MS_PER_S
  return steps.subarray(0, count).sort()[count >> 1]
}

/** How many stamps lie after and before the one above them. */
function countSteps(stamps: Float64Array): { up: number; down: number } {
  let down = 0
  let up = 0
  for (let i = 1; i < stamps.length; i++) {
    if (stamps[i] < stamps[i - 1]) down++
    else if (stamps[i] > stamps[i - 1]) up++
  }
  return { up, down }
}

/** True where the newest row comes first: next to every stamp lies before the one above it. */
export function isNewestFirst(stamps: Float64Array): boolean {
  const { up, down } = countSteps(stamps)
  return down > 2 && up < down * 0.05
}

/** Place of the last value not above `wanted` in the rising `sorted[0..length)`, or -1. */
function lastNotAbove(sorted: Float64Array, length: number, wanted: number): number {
  let low = 0
  let high = length
  while (low < high) {
    const middle = (low + high) >> 1
    if (sorted[middle] <= wanted) low = middle + 1
    else high = middle
  }
  return low - 1
}

/**
 * Puts rows into rising time, keeping the logger's own order where stamps are equal. Rows below the
 * latest time so far are either repeats (same stamp, same values: dropped), displaced (their place is
 * vacant: moved there), or the sign of a clock set back (their place is taken: everything from there
 * on follows the row before by one step). Each is reported; nothing is dropped silently.
 * @param same whether two rows hold the same values
 */
export function orderRows(
  stamps: Float64Array,
  same: (a: number, b: number) => boolean,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): OrderedRows {
  const n = stamps.length
  const rows = inSequence(n)
  if (countSteps(stamps).down === 0) return { stampsMs: stamps, rows, duplicates: 0 }

  const stepMs = typicalStepMs(stamps)
  const rising = new Float64Array(n)
  const risingRow = new Uint32Array(n)
  let risingCount = 0
  const displaced: { stamp: number; row: number }[] = []
  let duplicates = 0
  let shift = 0
  let setBacks = 0
  for (let i = 0; i < n; ) {
    const latest = risingCount === 0 ? Number.NEGATIVE_INFINITY : rising[risingCount - 1]
    if (shift > 0 && stamps[i] >= latest && stamps[i] - stamps[i - 1] > shift / 2) {
      // The clock that had been set back is right again.
      problems.add('clock-set-forward', {
        line: lineOf(rows[i]),
        values: { seconds: (stamps[i] - stamps[i - 1]) / MS_PER_S },
      })
      shift = 0
    }
    const stamp = stamps[i] + shift
    if (stamp >= latest) {
      rising[risingCount] = stamp
      risingRow[risingCount++] = rows[i++]
      continue
    }
    let end = i
    let vacant = 0
    let repeated = 0
    const repeats: boolean[] = []
    const furthest = Math.min(n, i + LOOK_AHEAD)
    for (; end < furthest && stamps[end] + shift < latest; end++) {
      const wanted = stamps[end] + shift
      const at = lastNotAbove(rising, risingCount, wanted)
      let isRepeat = false
      for (let k = at; k > at - LOOK_BACK && k >= 0 && rising[k] === wanted && !isRepeat; k--)
        isRepeat = same(risingRow[k], rows[end])
      repeats.push(isRepeat)
      if (isRepeat) repeated++
      const distance = Math.min(at < 0 ? stepMs : wanted - rising[at], rising[at + 1] - wanted)
      // Nothing was written years before its neighbours: such a clock has lost its date.
      const lost = at < 0 && rising[0] - wanted > LONGEST_PAUSE_MS
      if (distance >= stepMs * 0.25 && !lost) vacant++
    }
    const length = end - i
    if (repeated < length * 0.9 && vacant < length * 0.5 && setBacks < MOST_SET_BACKS) {
      const back = latest - stamp
      problems.add('clock-set-back', {
        line: lineOf(rows[i]),
        values: { seconds: (back + stepMs) / MS_PER_S },
      })
      setBacks++
      shift += back + stepMs
      continue
    }
    for (let k = i; k < end; k++) {
      if (repeats[k - i]) {
        duplicates++
        problems.add('duplicate-row', { line: lineOf(rows[k]) })
      } else {
        displaced.push({ stamp: stamps[k] + shift, row: rows[k] })
        problems.add('rows-out-of-order', { line: lineOf(rows[k]) })
      }
    }
    i = end
  }
  return merge(rising.subarray(0, risingCount), risingRow.subarray(0, risingCount), displaced, duplicates)
}

function merge(
  rising: Float64Array,
  risingRow: Uint32Array,
  displaced: { stamp: number; row: number }[],
  duplicates: number,
): OrderedRows {
  displaced.sort((a, b) => a.stamp - b.stamp || a.row - b.row)
  const n = rising.length + displaced.length
  const stampsMs = new Float64Array(n)
  const rows = new Uint32Array(n)
  let from = 0
  let next = 0
  for (let i = 0; i < n; i++) {
    const late = displaced[next]
    if (late !== undefined && (from >= rising.length || late.stamp < rising[from])) {
      stampsMs[i] = late.stamp
      rows[i] = late.row
      next++
    } else {
      stampsMs[i] = rising[from]
      rows[i] = risingRow[from++]
    }
  }
  return { stampsMs, rows, duplicates }
}
