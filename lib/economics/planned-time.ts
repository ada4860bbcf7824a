import type { ShiftCalendar } from '@/lib/contract/shift-calendar'
import type { Site } from '@/lib/contract/site'
import { MONTHS_PER_YEAR, S_PER_HOUR } from '@/lib/units'
import { rememberedBySite } from './by-site'
import { dayKind, isAmong } from './day-kind'
import { dateAfter, daysOfMonth, type LocalDay, localDay, nextMonth, wallInstantMs } from './local-time'
import { versionOn } from './validity'

const MS_PER_S = 1000

/** A machine as calendars name it. */
export interface NamedMachine {
  readonly id: string
  readonly name: string
}

/** A stretch of planned time, as instants in epoch ms, with the shift it belongs to. */
export interface PlannedStretch {
  readonly startMs: number
  readonly endMs: number
  /** The day the shift begins on. */
  readonly day: LocalDay
  readonly shift: string
}

/** The calendar that holds for a machine on a date: one that names it, else one that names none; null without either. */
export function calendarOn(date: string, machine: NamedMachine, site: Site): ShiftCalendar | null {
  const named = site.calendars?.filter(({ machines }) =>
    machines?.some((one) => one === machine.id || one === machine.name),
  )
  const common = site.calendars?.filter(({ machines }) => !machines?.length)
  return versionOn(named, date) ?? versionOn(common, date)
}

const clockText = (hour: number) => String(hour).padStart(2, '0')

function shiftsOn(day: LocalDay, calendar: ShiftCalendar, site: Site) {
  const other = calendar.exceptions.find(({ from, until }) => from <= day.date && day.date <= (until ?? from))
  if (other) return other.shifts
  const kind = dayKind(day.date, day.weekday, site)
  return calendar.days.filter((one) => isAmong(kind, one)).flatMap(({ shifts }) => shifts)
}

/** A month and the calendars that name a machine, by their places: all that tells its plan from another's. */
function planKey(month: string, { id, name }: NamedMachine, { calendars = [] }: Site): string {
  let key = month
  for (let i = 0; i < calendars.length; i++)
    if (calendars[i].machines?.some((one) => one === id || one === name)) key += ` ${i}`
  return key
}

const plans = rememberedBySite<readonly PlannedStretch[] | null>()

/**
 * Planned time of a month in order, cut to the month; what two shifts both cover counts once, for the earlier. A shift
 * past midnight belongs to the day it begins on. Hours are those that pass, so a night shift is an hour shorter or
 * longer where the clock is changed. Null where no calendar holds for the machine on any day of the month.
 */
export function plannedStretches(
  month: string,
  machine: NamedMachine,
  site: Site,
): readonly PlannedStretch[] | null {
  return plans(site, planKey(month, machine, site), () => stretchesOf(month, machine, site))
}

function stretchesOf(month: string, machine: NamedMachine, site: Site): PlannedStretch[] | null {
  const days = daysOfMonth(month)
  // A night shift of the month before reaches into this one.
  const all = [localDay(dateAfter(days[0].date, -1)), ...days]
  const calendars = all.map((day) => calendarOn(day.date, machine, site))
  if (calendars.slice(1).every((calendar) => calendar === null)) return null
  const fromMs = wallInstantMs(days[0].date, 0, site.timeZone)
  const toMs = wallInstantMs(`${nextMonth(month)}-01`, 0, site.timeZone)
  const found = all.flatMap((day, i) => {
    const calendar = calendars[i]
    if (!calendar) return []
    return shiftsOn(day, calendar, site).map(({ name, fromHour, toHour }): PlannedStretch => {
      const endDate = toHour <= fromHour ? dateAfter(day.date, 1) : day.date
      return {
        startMs: Math.max(fromMs, wallInstantMs(day.date, fromHour, site.timeZone)),
        endMs: Math.min(toMs, wallInstantMs(endDate, toHour, site.timeZone)),
        day,
        shift: name ?? `${clockText(fromHour)}–${clockText(toHour)}`,
      }
    })
  })
  let lastMs = fromMs
  return found
    .sort((a, b) => a.startMs - b.startMs)
    .flatMap((one) => {
      const startMs = Math.max(one.startMs, lastMs)
      if (startMs >= one.endMs) return []
      lastMs = one.endMs
      return [{ ...one, startMs }]
    })
}

export const hoursOfStretches = (stretches: readonly PlannedStretch[]) =>
  stretches.reduce((sum, { startMs, endMs }) => sum + (endMs - startMs) / MS_PER_S / S_PER_HOUR, 0)

/**
 * Planned hours of the twelve months from one on, by the machine's calendars where they hold; null where none holds in
 * any of them.
 * @param from `YYYY-MM`
 */
export function calendarYearHours(from: string, machine: NamedMachine, site: Site): number | null {
  const months = [from]
  while (months.length < MONTHS_PER_YEAR) months.push(nextMonth(months[months.length - 1]))
  if (months.every((month) => plannedStretches(month, machine, site) === null)) return null
  return months.reduce((sum, month) => sum + plannedHoursOf(month, machine, site), 0)
}

const plannedHours = rememberedBySite<number>()

/** Planned hours of a machine's month: its calendar's, else a twelfth of the site's planned hours of a year. */
export function plannedHoursOf(month: string, machine: NamedMachine, site: Site): number {
  return plannedHours(site, planKey(month, machine, site), () => {
    const stretches = plannedStretches(month, machine, site)
    return stretches ? hoursOfStretches(stretches) : site.plannedHoursPerYear / MONTHS_PER_YEAR
  })
}
