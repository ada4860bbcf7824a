const MONTH_LENGTH = 'YYYY-MM'.length

/** A month and those before it, `count` in all, earliest first, as `YYYY-MM`. */
export function monthsBefore(month: string, count: number): string[] {
  const [year, number] = month.split('-').map(Number)
  return Array.from({ length: count }, (_, k) =>
    new Date(Date.UTC(year, number - count + k, 1)).toISOString().slice(0, MONTH_LENGTH),
  )
}
