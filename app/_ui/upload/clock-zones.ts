const MS_PER_MINUTE = 60_000
const MINUTES_PER_HOUR = 60

/** Minutes that a zone is ahead of UTC at an instant. */
function offsetMinutes(timeZone: string, at: Date): number {
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
  }).formatToParts(at)
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value)
  const local = Date.UTC(part('year'), part('month') - 1, part('day'), part('hour'), part('minute'))
  return Math.round((local - Math.floor(at.getTime() / MS_PER_MINUTE) * MS_PER_MINUTE) / MS_PER_MINUTE)
}

/** `+01:00`, as a reading takes it. */
function offsetName(minutes: number): string {
  const two = (value: number) => String(value).padStart(2, '0')
  const size = Math.abs(minutes)
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(size / MINUTES_PER_HOUR))}:${two(size % MINUTES_PER_HOUR)}`
}

/** Clocks that a logger at a site may keep, the site's own first: with the clock change, without it, or UTC. */
export function clockZones(siteZone: string, year: number): readonly (readonly [string, string])[] {
  const offsets = [0, 6].map((month) => offsetMinutes(siteZone, new Date(Date.UTC(year, month, 15, 12))))
  const [winter, summer] = [Math.min(...offsets), Math.max(...offsets)]
  const changes: readonly (readonly [string, string])[] =
    winter === summer
      ? [[siteZone, `${siteZone}, the site’s`]]
      : [
          [siteZone, `${siteZone}, changed in spring and autumn`],
          [offsetName(winter), `winter time all year (UTC${offsetName(winter)})`],
          [offsetName(summer), `summer time all year (UTC${offsetName(summer)})`],
        ]
  return offsets.includes(0) ? changes : [...changes, ['UTC', 'UTC']]
}
