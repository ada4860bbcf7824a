const formats = new Map<string, Intl.DateTimeFormat>()

/** The day of the calendar that an instant falls on in a zone, `YYYY-MM-DD`. */
export function localDay(at: Date, timeZone: string): string {
  let format = formats.get(timeZone)
  if (!format) {
    format = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' })
    formats.set(timeZone, format)
  }
  const parts = new Map(format.formatToParts(at).map(({ type, value }) => [type, value]))
  return `${parts.get('year')}-${parts.get('month')}-${parts.get('day')}`
}
