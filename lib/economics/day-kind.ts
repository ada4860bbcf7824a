import type { Site } from '@/lib/contract/site'

/** What a date counts as: an ISO weekday, or a type of day by name that is no weekday. */
export interface DayKind {
  readonly weekday: number
  readonly dayType: string | null
}

const MONTH_DAY_AT = 'YYYY-'.length

/** The kind of a date at the site, holidays seen to; the first holiday of a date counts. */
export function dayKind(date: string, weekday: number, { holidays }: Pick<Site, 'holidays'>): DayKind {
  const monthDay = date.slice(MONTH_DAY_AT)
  const holiday = holidays?.find((one) => one.date === date || one.date === monthDay)
  if (!holiday) return { weekday, dayType: null }
  return typeof holiday.countsAs === 'number'
    ? { weekday: holiday.countsAs, dayType: null }
    : { weekday, dayType: holiday.countsAs }
}

/** Whether a list of weekdays and types of day holds a day. */
export function isAmong(
  { weekday, dayType }: DayKind,
  of: { readonly weekdays: readonly number[]; readonly dayTypes?: readonly string[] },
): boolean {
  return dayType === null ? of.weekdays.includes(weekday) : (of.dayTypes ?? []).includes(dayType)
}
