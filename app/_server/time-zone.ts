/** Whether this is the name of a time zone that calendar arithmetic knows (IANA). */
export function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name })
    return true
  } catch {
    return false
  }
}
