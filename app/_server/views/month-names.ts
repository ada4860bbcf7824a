import { monthsBefore } from './months-before'

const MONTHS_PER_YEAR = 12

export const isMonth = (text: string) => /^\d{4}-(0[1-9]|1[0-2])$/.test(text)

/** The month before, `YYYY-MM`. */
export const monthBefore = (month: string) => monthsBefore(month, 2)[0]

/** The same month of the year before. */
export const yearBefore = (month: string) => monthsBefore(month, MONTHS_PER_YEAR + 1)[0]

/** The months from one to another, both among them; none where either is missing. */
export function monthsBetween(from: string | null, until: string | null): string[] {
  if (!from || !until || until < from) return []
  const months: string[] = []
  for (let month = until; month >= from; month = monthBefore(month)) months.unshift(month)
  return months
}
