import { MS_PER_S } from './clock'
import type { OrderedRows } from './order-rows'
import { typicalStepMs } from './order-rows'
import type { ProblemLog } from './problem-log'

/** A repeat is looked for among this many different rows before it. */
const LOOK_BACK = 64

interface Group {
  readonly from: number
  readonly to: number
}

function groupsOf(stamps: Float64Array): { groups: Group[]; distinct: number; singles: number } {
  const groups: Group[] = []
  let distinct = 0
  let singles = 0
  for (let from = 0; from < stamps.length; ) {
    let to = from + 1
    while (to < stamps.length && stamps[to] === stamps[from]) to++
    if (to - from > 1) groups.push({ from, to })
    else singles++
    distinct++
    from = to
  }
  return { groups, distinct, singles }
}

function median(values: number[]): number {
  return values.sort((a, b) => a - b)[values.length >> 1]
}

/**
 * Rows that share a stamp. Where the clock is coarser than the rows (ten rows to every second) they
 * are spread evenly over it; a row that repeats the one before in full is dropped as a duplicate.
 * Both are reported.
 */
export function spreadSharedStamps(
  ordered: OrderedRows,
  same: (a: number, b: number) => boolean,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): OrderedRows {
  const { stampsMs, rows } = ordered
  const { groups, distinct, singles } = groupsOf(stampsMs)
  if (groups.length === 0) return ordered
  const allEqual = ({ from, to }: Group): boolean => {
    for (let i = from + 1; i < to; i++) if (!same(rows[i - 1], rows[i])) return false
    return true
  }
  const coarse = singles < distinct * 0.5 && !groups.every(allEqual)
  const dropped = new Uint8Array(rows.length)
  let duplicates = ordered.duplicates
  if (!coarse) {
    for (const { from, to } of groups) {
      const distinctRows = [rows[from]]
      for (let i = from + 1; i < to; i++) {
        if (!distinctRows.slice(-LOOK_BACK).some((row) => same(row, rows[i]))) {
          distinctRows.push(rows[i])
          continue
        }
        dropped[i] = 1
        duplicates++
        problems.add('duplicate-row', { line: lineOf(rows[i]) })
      }
    }
  }
  const kept = rows.filter((_, i) => dropped[i] === 0)
  const keptStamps = stampsMs.filter((_, i) => dropped[i] === 0)
  spread(keptStamps, kept, coarse, problems, lineOf)
  return { stampsMs: keptStamps, rows: kept, duplicates }
}

function spread(
  stamps: Float64Array,
  rows: Uint32Array,
  coarse: boolean,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): void {
  const { groups } = groupsOf(stamps)
  if (groups.length === 0) return
  const resolution = typicalStepMs(stamps)
  const usual = coarse ? median(groups.map(({ from, to }) => to - from)) : 1
  let count = 0
  for (const { from, to } of groups) {
    const size = to - from
    const start = stamps[from]
    const until = Math.min(to < stamps.length ? stamps[to] - start : resolution, resolution)
    // A first group cut short holds the last rows of its second; any later one the first.
    const cutShort = coarse && from === 0 && size < usual && to < stamps.length
    const step = coarse && size < usual ? resolution / usual : until / size
    const offset = cutShort ? until - size * step : 0
    for (let i = from; i < to; i++) stamps[i] = start + offset + (i - from) * step
    count += size
  }
  problems.add('shared-stamps-spread', {
    line: lineOf(rows[groups[0].from]),
    count,
    values: { stepS: resolution / usual / MS_PER_S, resolutionS: resolution / MS_PER_S },
  })
}
