import { Temporal } from '@js-temporal/polyfill'

const NS_PER_MS = 1e6

/** How a log's elapsed time reads on the site's clock: added ms, and what the axis is called. */
export function logClock(startedAt: string | null, timeZone: string): { clockMs: number; clockName: string } {
  if (!startedAt) return { clockMs: 0, clockName: 'time from the first sample (the log has no date)' }
  const start = Temporal.Instant.from(startedAt).toZonedDateTimeISO(timeZone)
  return {
    clockMs: start.epochMilliseconds + start.offsetNanoseconds / NS_PER_MS,
    clockName: `${timeZone} (UTC${start.offset} at the start of the log)`,
  }
}
