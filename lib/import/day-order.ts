import type { DayOrder } from '@/lib/contract/reading'
import { reportUnused } from './answer-not-used'
import { MS_PER_DAY } from './clock'
import type { ProblemLog } from './problem-log'
import type { OrderVotes } from './stamp-column'

/** What else in the file speaks for one order, where no day is above 12. */
export interface OrderHints {
  readonly dotted: boolean
  readonly twelveHour: boolean
  readonly decimalComma: boolean
  readonly timeZone: string
  readonly usUnits: boolean
  /** What a person says, for where the column leaves it open. */
  readonly answer?: DayOrder
}

/** Zones whose people write the month first. */
const MONTH_FIRST_ZONES =
  /^(?:US\/|America\/(?:New_York|Chicago|Denver|Los_Angeles|Phoenix|Detroit|Anchorage|Boise|Indiana|Kentucky|Menominee|North_Dakota|Adak|Juneau|Nome|Sitka)|Pacific\/Honolulu)/

/** Largest step between rows: over midnight the right reading moves by a day, the wrong one by a month. */
function widestStep(stamps: Float64Array): number {
  let widest = 0
  for (let i = 1; i < stamps.length; i++) {
    const step = Math.abs(stamps[i] - stamps[i - 1])
    if (step > widest || Number.isNaN(step)) widest = Number.isNaN(step) ? Number.POSITIVE_INFINITY : step
  }
  return widest
}

/** The column's stamps read either way, ms since 1970. */
interface BothOrders {
  readonly dayFirst: Float64Array
  readonly monthFirst: Float64Array
}

/**
 * The order of day and month, once for the whole column: a number above 12 settles it, then a date
 * that moves on by a day and not by a month; else a person's answer; else the likeliest reading, said as an assumption.
 */
export function settleDayOrder(
  votes: OrderVotes,
  readings: BothOrders,
  hints: OrderHints,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): DayOrder {
  // Only days such as 3 March: both readings are one.
  if (votes.open + votes.dayFirst + votes.monthFirst === 0) return hints.answer ?? 'day-first'
  const found = provenOrder(votes, readings)
  if (found !== null) {
    reportUnused(problems, 'dayOrder', hints.answer, found)
    return found
  }
  return hints.answer ?? likeliestOrder(votes, readings, hints, problems, lineOf)
}

function provenOrder(votes: OrderVotes, readings: BothOrders): DayOrder | null {
  if (votes.dayFirst !== votes.monthFirst)
    return votes.dayFirst > votes.monthFirst ? 'day-first' : 'month-first'
  const dayStep = widestStep(readings.dayFirst)
  const monthStep = widestStep(readings.monthFirst)
  if (dayStep < 2 * MS_PER_DAY && monthStep > 20 * MS_PER_DAY) return 'day-first'
  return monthStep < 2 * MS_PER_DAY && dayStep > 20 * MS_PER_DAY ? 'month-first' : null
}

function likeliestOrder(
  votes: OrderVotes,
  readings: BothOrders,
  hints: OrderHints,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): DayOrder {
  const monthFirst =
    !hints.dotted &&
    !hints.decimalComma &&
    (MONTH_FIRST_ZONES.test(hints.timeZone) || hints.twelveHour || hints.usUnits)
  const order = monthFirst ? 'month-first' : 'day-first'
  const other = monthFirst ? readings.dayFirst[0] : readings.monthFirst[0]
  const taken = monthFirst ? readings.monthFirst[0] : readings.dayFirst[0]
  const day = (ms: number): string | null =>
    Number.isNaN(ms) ? null : new Date(ms).toISOString().slice(0, 10)
  problems.add('assumed-day-order', {
    line: lineOf(0),
    count: votes.open,
    values: {
      assumed: order,
      reading: day(taken),
      other: monthFirst ? 'day-first' : 'month-first',
      otherReading: day(other),
    },
  })
  return order
}
