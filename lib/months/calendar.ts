import type { Site } from '@/lib/contract/site'
import { monthOf, monthStartMs, nextMonth } from '@/lib/economics/local-time'
import { priceStretches } from '@/lib/economics/tariff'

const MS_PER_S = 1000

/** A stretch of a recording within one local month at one price, ending `endS` seconds after its first sample. */
export interface CalendarStretch {
  readonly endS: number
  readonly month: string
  readonly pricePerKWh: number
}

/**
 * Cuts a recording's time at the site's month starts and price changes, once, so that the samples need
 * no calendar arithmetic of their own. The stretches follow one another without a break.
 * @param startedAtMs instant of the first sample in epoch ms
 * @param durationS last sample's end in seconds after it
 */
export function calendarStretches(startedAtMs: number, durationS: number, site: Site): CalendarStretch[] {
  const endMs = startedAtMs + durationS * MS_PER_S
  const stretches: CalendarStretch[] = []
  let month = monthOf(startedAtMs, site.timeZone)
  let fromMs = startedAtMs
  while (fromMs < endMs) {
    const toMs = Math.min(endMs, monthStartMs(nextMonth(month), site.timeZone))
    for (const stretch of priceStretches(fromMs, toMs, site)) {
      const endS = (stretch.endMs - startedAtMs) / MS_PER_S
      stretches.push({ endS, month, pricePerKWh: stretch.pricePerKWh })
    }
    fromMs = toMs
    month = nextMonth(month)
  }
  return stretches
}
