import { Temporal } from '@js-temporal/polyfill'
import { TankwardError } from '@/lib/errors'

/** Start of a local month as an instant in epoch ms. Months are `YYYY-MM`. */
export function monthStartMs(month: string, timeZone: string): number {
  const [year, number] = month.split('-').map(Number)
  const first = Temporal.PlainDate.from({ year, month: number, day: 1 })
  return inZone(timeZone, () => first.toZonedDateTime(timeZone)).epochMilliseconds
}

/** The local month `YYYY-MM` an instant lies in. */
export function monthOf(epochMs: number, timeZone: string): string {
  return zoned(epochMs, timeZone).toPlainDate().toPlainYearMonth().toString()
}

/** The month after, `YYYY-MM`. */
export function nextMonth(month: string): string {
  return Temporal.PlainYearMonth.from(month).add({ months: 1 }).toString()
}

/** A day on the site's calendar. */
export interface LocalDay {
  /** `YYYY-MM-DD`. */
  readonly date: string
  /** ISO weekday, 1 = Monday. */
  readonly weekday: number
}

export interface WallClock extends LocalDay {
  /** What the clock on the wall shows, as hours after midnight. */
  readonly hour: number
}

/** A stretch of time in which a zone's clock stands at one offset from UTC, ms. */
interface ZoneStretch {
  readonly fromMs: number
  readonly untilMs: number
  readonly offsetMs: number
}

/** Stretches met so far: asking a zone costs a thousand times what adding its offset does. */
const stretchesByZone = new Map<string, ZoneStretch[]>()

function stretchAt(epochMs: number, timeZone: string): ZoneStretch {
  const known = stretchesByZone.get(timeZone) ?? []
  const found = known.find(({ fromMs, untilMs }) => fromMs <= epochMs && epochMs < untilMs)
  if (found) return found
  const at = zoned(epochMs, timeZone)
  const next = at.getTimeZoneTransition('next')
  // A transition's own instant belongs to what it begins; `previous` looks strictly before.
  const previous = at.add({ milliseconds: 1 }).getTimeZoneTransition('previous')
  const stretch = {
    fromMs: previous?.epochMilliseconds ?? Number.NEGATIVE_INFINITY,
    untilMs: next?.epochMilliseconds ?? Number.POSITIVE_INFINITY,
    offsetMs: at.offsetNanoseconds / NS_PER_MS,
  }
  stretchesByZone.set(timeZone, [...known, stretch])
  return stretch
}

/** What calendar and clock at the site show at an instant. */
export function wallClock(epochMs: number, timeZone: string): WallClock {
  const wholeMs = Math.floor(epochMs)
  const at = new Date(wholeMs + stretchAt(wholeMs, timeZone).offsetMs)
  const second = at.getUTCSeconds() + at.getUTCMilliseconds() / 1000
  const hour = at.getUTCHours() + (at.getUTCMinutes() + second / 60) / 60
  return { ...localDay(at.toISOString().slice(0, DATE_LENGTH)), hour }
}

const NS_PER_MS = 1_000_000
const DAYS_PER_WEEK = 7
const DATE_LENGTH = 'YYYY-MM-DD'.length

/** The date some days after another; dates alone know no clock. */
export function dateAfter(date: string, days: number): string {
  const at = new Date(`${date}T00:00:00Z`)
  at.setUTCDate(at.getUTCDate() + days)
  return at.toISOString().slice(0, DATE_LENGTH)
}

export const dayAfter = (date: string) => dateAfter(date, 1)

/** A date with its weekday. */
export function localDay(date: string): LocalDay {
  return { date, weekday: new Date(`${date}T00:00:00Z`).getUTCDay() || DAYS_PER_WEEK }
}

/** The day before; the week goes round. */
export function dayBefore({ date, weekday }: LocalDay): LocalDay {
  return { date: dateAfter(date, -1), weekday: weekday === 1 ? DAYS_PER_WEEK : weekday - 1 }
}

/** The days of a month `YYYY-MM` in order. */
export function daysOfMonth(month: string): LocalDay[] {
  const days: LocalDay[] = []
  for (let date = `${month}-01`; date.startsWith(month); date = dayAfter(date)) days.push(localDay(date))
  return days
}

/** The instant at which the clock at the site shows an hour of a date; where it shows it twice, the first time. */
export function wallInstantMs(date: string, hour: number, timeZone: string): number {
  const asUtcMs = Date.parse(`${date}T00:00:00Z`) + Math.round(hour * MS_PER_HOUR)
  const [before, after] = [-MS_PER_DAY, MS_PER_DAY].map((off) => stretchAt(asUtcMs + off, timeZone))
  // No offset is as long as a day: where the clock is not changed around it, there is one offset to take off.
  if (before === after) return asUtcMs - before.offsetMs
  const wall = Temporal.PlainDate.from(date)
    .toPlainDateTime()
    .add({ milliseconds: Math.round(hour * MS_PER_HOUR) })
  return inZone(timeZone, () => wall.toZonedDateTime(timeZone)).epochMilliseconds
}

/**
 * Every instant in (fromMs, toMs) at which the wall clock shows one of the given hours or is put
 * forward or back, in rising order. A time that the autumn change repeats counts twice; one that the
 * spring change skips is covered by the change itself.
 */
export function wallClockInstants(
  fromMs: number,
  toMs: number,
  hours: readonly number[],
  timeZone: string,
): number[] {
  const instants = new Set<number>()
  const last = zoned(toMs, timeZone).toPlainDate()
  let day = zoned(fromMs, timeZone).toPlainDate()
  for (; Temporal.PlainDate.compare(day, last) <= 0; day = day.add({ days: 1 })) {
    for (const hour of hours) {
      const wall = day.toPlainDateTime().add({ milliseconds: Math.round(hour * MS_PER_HOUR) })
      for (const disambiguation of ['earlier', 'later'] as const) {
        instants.add(wall.toZonedDateTime(timeZone, { disambiguation }).epochMilliseconds)
      }
    }
  }
  let change = zoned(fromMs, timeZone).getTimeZoneTransition('next')
  for (; change !== null && change.epochMilliseconds < toMs; change = change.getTimeZoneTransition('next')) {
    instants.add(change.epochMilliseconds)
  }
  return [...instants].filter((ms) => ms > fromMs && ms < toMs).sort((a, b) => a - b)
}

const MS_PER_HOUR = Temporal.Duration.from({ hours: 1 }).total('milliseconds')
const MS_PER_DAY = Temporal.Duration.from({ days: 1 }).total('milliseconds')

function zoned(epochMs: number, timeZone: string): Temporal.ZonedDateTime {
  const instant = Temporal.Instant.fromEpochMilliseconds(Math.floor(epochMs))
  return inZone(timeZone, () => instant.toZonedDateTimeISO(timeZone))
}

/** @throws TankwardError `time-zone-unknown` */
function inZone(timeZone: string, read: () => Temporal.ZonedDateTime): Temporal.ZonedDateTime {
  try {
    return read()
  } catch (cause) {
    if (cause instanceof RangeError) throw new TankwardError('time-zone-unknown', { timeZone }, { cause })
    throw cause
  }
}
