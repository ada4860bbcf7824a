import { type Answers, wallClockMs } from '@/lib/contract/reading'
import { type EvenTimes, inFull } from '@/lib/samples/samples'
import { evenTimes } from '@/lib/samples/timeline'
import { reportUnused } from './answer-not-used'
import { LONGEST_PAUSE_MS, MS_PER_DAY, MS_PER_HOUR, MS_PER_S } from './clock'
import { alwaysRises, leapingRows, mendUnsetClock, neverFalls } from './clock-faults'
import { settleDayOrder } from './day-order'
import { settleNumericTime } from './numeric-time'
import { isNewestFirst, orderRows, typicalStepMs } from './order-rows'
import type { PreambleTime } from './preamble'
import type { ProblemLog } from './problem-log'
import { mendMidnight, unwrap } from './rollover'
import { inSequence, pick } from './rows'
import { spreadSharedStamps } from './shared-stamps'
import type { StampColumn } from './stamp-column'
import type { ValueColumn } from './value-column'
import { localToInstant, localToInstants, steadyShift } from './zone'

/** The raw time axis of a file, as its plan read it. */
export type RawTime =
  | { readonly kind: 'stamp'; readonly column: StampColumn }
  | { readonly kind: 'numeric'; readonly column: ValueColumn; readonly unitText: string | null }
  | { readonly kind: 'row-number'; readonly intervalMs: number; readonly count: number }

export interface TimeContext {
  readonly timeColumn: string
  readonly preamble: PreambleTime
  readonly timeZone: string
  readonly decimalComma: boolean
  readonly usUnits: boolean
  /** What a person says, for where the file leaves it open. */
  readonly answers: Answers
  readonly problems: ProblemLog
  readonly lineOf: (row: number) => number
  readonly same: (a: number, b: number) => boolean
}

export interface SettledTime {
  /** Strictly rising, from 0. */
  readonly timeS: Float64Array | EvenTimes
  /** The file's kept rows in the order of `timeS`; null where that is all of them as they come. */
  readonly rows: Uint32Array | null
  readonly startedAtMs: number | null
  readonly format: string
  /** Rows dropped here: unreadable under the settled day order, leaping, repeated. */
  readonly rejected: number
}

const isoOf = (ms: number): string => new Date(ms).toISOString()

interface Stamps {
  readonly kind: 'instant' | 'local' | 'time-of-day' | 'elapsed'
  readonly format: string
  readonly stampsMs: Float64Array
}

function readStamps(raw: RawTime, context: TimeContext): Stamps {
  if (raw.kind === 'row-number') {
    const stampsMs = new Float64Array(raw.count)
    for (let i = 0; i < raw.count; i++) stampsMs[i] = i * raw.intervalMs
    return { kind: 'elapsed', format: 'row-number', stampsMs }
  }
  if (raw.kind === 'numeric') {
    const place = { column: context.timeColumn, line: context.lineOf(0) }
    return settleNumericTime(
      inFull(raw.column.take()),
      raw.unitText,
      place,
      context.problems,
      context.answers.timeUnit,
    )
  }
  const { column } = raw
  const count = column.dated
  const readings = column.take()
  const ordered = column.votes.dayFirst + column.votes.monthFirst + column.votes.open > 0
  const hints = {
    dotted: column.dotted,
    twelveHour: column.twelveHour > 0,
    decimalComma: context.decimalComma,
    timeZone: context.timeZone,
    usUnits: context.usUnits,
    answer: context.answers.dayOrder,
  }
  const order = ordered
    ? settleDayOrder(column.votes, readings, hints, context.problems, context.lineOf)
    : null
  const stampsMs = order === 'month-first' ? readings.monthFirst : readings.dayFirst
  if (column.hourLost > stampsMs.length / 2) {
    context.problems.add('hour-lost', {
      line: context.lineOf(0),
      column: context.timeColumn,
      count: column.hourLost,
    })
    unwrap(stampsMs, count === 0 ? MS_PER_HOUR : Number.POSITIVE_INFINITY)
    return { kind: 'elapsed', format: 'hour-lost', stampsMs }
  }
  if (count === 0) {
    const stamps = { kind: 'time-of-day', format: 'time-of-day', stampsMs } as const
    // More than a day on the clock is a duration, not a time of day.
    if (stampsMs.some((ms) => ms >= MS_PER_DAY)) return stamps
    unwrap(stampsMs, MS_PER_DAY)
    return withDay(stamps, context)
  }
  if (column.zoned > stampsMs.length / 2) return { kind: 'instant', format: 'iso-zoned', stampsMs }
  return { kind: 'local', format: order ?? 'iso', stampsMs }
}

/** Drops rows whose time turned out wrong once the whole column was known. */
function dropBad(stamps: Stamps, context: TimeContext): { stampsMs: Float64Array; rows: Uint32Array } {
  const { stampsMs } = stamps
  const all = inSequence(stampsMs.length)
  const readable = stampsMs.includes(Number.NaN) ? all.filter((i) => !Number.isNaN(stampsMs[i])) : all
  const known = readable.length === all.length ? stampsMs : pick(stampsMs, readable)
  const leaping = neverFalls(known)
    ? null
    : leapingRows(known, typicalStepMs(known.length > 200_000 ? known.subarray(0, 200_000) : known))
  const rows = leaping === null ? readable : readable.filter((_, i) => leaping[i] === 0)
  if (rows.length === all.length) return { stampsMs, rows: all }
  const kept = new Set(rows)
  for (const i of all) {
    if (kept.has(i)) continue
    const date = new Date(stampsMs[i])
    // A damaged count may lie beyond all dates.
    const isDate = stamps.kind !== 'elapsed' && !Number.isNaN(date.getTime())
    const found = isDate ? date.toISOString() : null
    context.problems.add('row-rejected-time', {
      line: context.lineOf(i),
      column: context.timeColumn,
      values: { found },
      examples: [{ line: context.lineOf(i), cell: found }],
    })
  }
  return { stampsMs: pick(stampsMs, rows), rows }
}

/** Rows that come newest first, turned: what a clock does from row to row is told in the order of time. */
function oldestFirst(dropped: ReturnType<typeof dropBad>, context: TimeContext): ReturnType<typeof dropBad> {
  const { stampsMs, rows } = dropped
  if (!isNewestFirst(stampsMs)) return dropped
  context.problems.add('rows-reversed', { line: context.lineOf(rows[0]), count: rows.length })
  return { stampsMs: stampsMs.slice().reverse(), rows: rows.slice().reverse() }
}

/** True where clock-like cells from nil on say how long it is since a start that stands above the table. */
function isSinceStart({ kind, stampsMs }: Stamps, { preamble }: TimeContext): boolean {
  const { timeMs } = preamble
  return kind === 'time-of-day' && timeMs !== null && Math.abs(stampsMs[0] - timeMs) > stampsMs[0]
}

/** The day that the preamble names, on the logger's clock in ms, or null; said as assumed where it reads two ways. */
function preambleDayMs(context: TimeContext): number | null {
  const { date } = context.preamble
  if (date === null) return null
  const monthFirst = context.answers.dayOrder === 'month-first' && !Number.isNaN(date.monthFirstMs)
  if (date.date === 'either' && !Number.isNaN(date.monthFirstMs) && date.monthFirstMs !== date.dayFirstMs) {
    if (!Number.isNaN(date.dayFirstMs) && context.answers.dayOrder === undefined) {
      context.problems.add('assumed-day-order', {
        line: context.preamble.line,
        values: {
          assumed: 'day-first',
          reading: new Date(date.dayFirstMs).toISOString().slice(0, 10),
          other: 'month-first',
          otherReading: new Date(date.monthFirstMs).toISOString().slice(0, 10),
        },
      })
    }
  }
  return monthFirst || Number.isNaN(date.dayFirstMs) ? date.monthFirstMs : date.dayFirstMs
}

/** Times of day with the day that the file or a person gives them: such a log follows the clock at the site. */
function withDay(stamps: Stamps, context: TimeContext): Stamps {
  const { stampsMs } = stamps
  const { answers, preamble } = context
  const isZoned = preamble.date !== null && !Number.isNaN(preamble.date.zoneMinutes)
  if (isZoned || stampsMs.length === 0 || isSinceStart(stamps, context)) return stamps
  const saidMs = answers.startedAt ? wallClockMs(answers.startedAt) : null
  const answeredMs = saidMs === null ? null : Math.floor(saidMs / MS_PER_DAY) * MS_PER_DAY
  const dayMs = preambleDayMs(context) ?? answeredMs
  if (dayMs === null) return stamps
  for (let i = 0; i < stampsMs.length; i++) stampsMs[i] += dayMs
  return { ...stamps, kind: 'local' }
}

/** The start that the preamble names for a log whose rows carry no date, in epoch ms, or null. */
function preambleStart(stamps: Stamps, context: TimeContext): number | null {
  const { date, timeMs } = context.preamble
  if (date === null || stamps.stampsMs.length === 0) return null
  const since = isSinceStart(stamps, context)
  const clockMs = stamps.kind === 'time-of-day' && !since ? stamps.stampsMs[0] : timeMs
  const dayMs = clockMs === null ? null : preambleDayMs(context)
  if (clockMs === null || dayMs === null) return null
  const counts = since || (stamps.kind === 'elapsed' && stamps.format === 'elapsed')
  const first = counts ? stamps.stampsMs[0] : 0
  if (!Number.isNaN(date.zoneMinutes)) {
    return dayMs + clockMs - date.zoneMinutes * (MS_PER_HOUR / 60) + first
  }
  return localToInstant(dayMs + clockMs, context.timeZone) + first
}

/** The start that a person names for a log without one, in epoch ms, or null. */
function answeredStart(stamps: Stamps, context: TimeContext): number | null {
  const { startedAt } = context.answers
  if (!startedAt) return null
  const localMs = wallClockMs(startedAt)
  if (stamps.kind !== 'time-of-day') return localToInstant(localMs, context.timeZone)
  // The rows know the time of day; the day is all they lack.
  return localToInstant(Math.floor(localMs / MS_PER_DAY) * MS_PER_DAY + stamps.stampsMs[0], context.timeZone)
}

/** Stamps as seconds from the first of them, in place. */
function elapsedS(stampsMs: Float64Array, shiftMs: number): Float64Array {
  const start = stampsMs[0] - shiftMs
  for (let i = 0; i < stampsMs.length; i++) {
    // A tenth of a microsecond is below any logger's clock: it takes away what scaling left behind.
    stampsMs[i] = Math.round((stampsMs[i] - shiftMs - start) * 1e4) / (MS_PER_S * 1e4)
  }
  return stampsMs
}

/**
 * Stamps of a long recording whose clock ticked evenly from end to end, with dates that read one way and no change of
 * the clock: there is nothing to mend, and no array of them is needed. Null for all others.
 */
function settleEven(raw: RawTime, context: TimeContext): SettledTime | null {
  const stamps = raw.kind === 'stamp' ? raw.column.even : null
  if (raw.kind !== 'stamp' || stamps === null) return null
  const { first, step, length } = stamps
  // Of whole ms nothing is rounded away.
  const isWhole = Number.isInteger(first) && Number.isInteger(step) && step < LONGEST_PAUSE_MS
  const timeS = isWhole ? evenTimes(step / MS_PER_S, length) : null
  if (timeS === null) return null
  const isZoned = raw.column.zoned > 0
  const lastMs = first + (length - 1) * step
  const { timeZone, problems, lineOf } = context
  const shiftMs = isZoned ? 0 : steadyShift(first, lastMs, timeZone, problems, lineOf)
  if (shiftMs === null) return null
  const startedAtMs = first - shiftMs
  reportUnused(problems, 'startedAt', context.answers.startedAt, isoOf(startedAtMs))
  return { timeS, rows: null, startedAtMs, format: isZoned ? 'iso-zoned' : 'iso', rejected: 0 }
}

/** From the raw time cells to one rising axis in seconds and the instant it begins at. */
export function settleTime(raw: RawTime, context: TimeContext): SettledTime {
  const even = settleEven(raw, context)
  if (even !== null) return even
  const stamps = readStamps(raw, context)
  const total = stamps.stampsMs.length
  const isDated = stamps.kind === 'local' || stamps.kind === 'instant'
  const startedAt = (stampsMs: Float64Array, shiftMs: number): number | null => {
    if (stampsMs.length === 0) return null
    const inOrder = { ...stamps, stampsMs }
    const own = isDated ? stampsMs[0] - shiftMs : preambleStart(inOrder, context)
    if (own === null) return answeredStart(inOrder, context)
    // Of a person's start the day alone was wanted.
    if (stamps.format === 'time-of-day' && context.preamble.date === null) return own
    reportUnused(context.problems, 'startedAt', context.answers.startedAt, isoOf(own))
    return own
  }
  const settled = (stampsMs: Float64Array, shiftMs: number, rows: Uint32Array | null): SettledTime => {
    const startedAtMs = startedAt(stampsMs, shiftMs)
    const timeS = elapsedS(stampsMs, shiftMs)
    return { timeS, rows, startedAtMs, format: stamps.format, rejected: total - timeS.length }
  }
  // Next to all files: nothing to mend, to move or to spread.
  const isRising = alwaysRises(stamps.stampsMs)
  const { stampsMs, rows } = isRising
    ? { stampsMs: stamps.stampsMs, rows: null }
    : oldestFirst(dropBad(stamps, context), context)
  const lineOf = (row: number): number => context.lineOf(rows === null ? row : rows[row])
  if (isDated) mendUnsetClock(stampsMs, context.problems, lineOf)
  if (stamps.kind === 'local' && !isRising) mendMidnight(stampsMs, context.problems, lineOf)
  const shiftMs =
    stamps.kind === 'local'
      ? localToInstants(stampsMs, context.timeZone, context.problems, lineOf, isRising)
      : 0
  const risesStill = isRising && (shiftMs !== null || alwaysRises(stampsMs))
  if (risesStill) return settled(stampsMs, shiftMs ?? 0, null)
  const kept = rows ?? inSequence(total)
  const same = (a: number, b: number): boolean => context.same(kept[a], kept[b])
  const ordered = orderRows(stampsMs, same, context.problems, lineOf)
  const spread = spreadSharedStamps(ordered, same, context.problems, lineOf)
  const inFile = spread.rows.map((row) => kept[row])
  return settled(spread.stampsMs, 0, inFile)
}
