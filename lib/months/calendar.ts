import type { Site } from '@/lib/contract/site'
import { monthOf, monthStartMs, nextMonth, wallClock, wallClockInstants } from '@/lib/economics/local-time'
import { priceStretches } from '@/lib/economics/tariff'

const MS_PER_S = 1000

/** Time in epoch ms that another recording of the machine accounts for. */
export interface LeftOut {
  readonly fromMs: number
  readonly toMs: number
}

/** A stretch of a recording, ending `endS` seconds after its first sample. */
interface Stretch {
  readonly endS: number
  /** Whether it counts, or another recording of the same time does. */
  readonly counts: boolean
}

/** A stretch within one local month at one price. */
export interface CalendarStretch extends Stretch {
  readonly month: string
  readonly pricePerKWh: number
}

/** A stretch within one local day. */
export interface DayStretch extends Stretch {
  readonly date: string
}

/**
 * Cuts a recording's time at the site's month starts and price changes, and at the edges of what is left out, once, so
 * that the samples need no calendar arithmetic of their own. The stretches follow one another without a break.
 * @param startedAtMs instant of the first sample in epoch ms
 * @param durationS last sample's end in seconds after it
 */
export function calendarStretches(
  startedAtMs: number,
  durationS: number,
  site: Site,
  leftOut: readonly LeftOut[] = [],
): CalendarStretch[] {
  const endMs = startedAtMs + durationS * MS_PER_S
  const stretches: CalendarStretch[] = []
  let month = monthOf(startedAtMs, site.timeZone)
  let fromMs = startedAtMs
  while (fromMs < endMs) {
    const toMs = Math.min(endMs, monthStartMs(nextMonth(month), site.timeZone))
    for (const { startMs, endMs: until, pricePerKWh } of priceStretches(fromMs, toMs, site)) {
      for (const part of counted(startMs, until, startedAtMs, leftOut))
        stretches.push({ ...part, month, pricePerKWh })
    }
    fromMs = toMs
    month = nextMonth(month)
  }
  return stretches
}

/** The same at midnights. */
export function dayStretches(
  startedAtMs: number,
  durationS: number,
  timeZone: string,
  leftOut: readonly LeftOut[] = [],
): DayStretch[] {
  const endMs = startedAtMs + durationS * MS_PER_S
  const bounds = [startedAtMs, ...wallClockInstants(startedAtMs, endMs, [0], timeZone), endMs]
  return bounds.slice(1).flatMap((untilMs, i) => {
    const { date } = wallClock((bounds[i] + untilMs) / 2, timeZone)
    return counted(bounds[i], untilMs, startedAtMs, leftOut).map((part) => ({ ...part, date }))
  })
}

/** A stretch in epoch ms in the parts that count and those that do not, in order. */
function counted(fromMs: number, toMs: number, startedAtMs: number, leftOut: readonly LeftOut[]): Stretch[] {
  const edges = leftOut
    .flatMap((one) => [one.fromMs, one.toMs])
    .filter((edge) => fromMs < edge && edge < toMs)
    .sort((a, b) => a - b)
  const bounds = [fromMs, ...edges, toMs]
  return bounds.slice(1).map((endMs, i) => {
    const middle = (bounds[i] + endMs) / 2
    const counts = !leftOut.some((one) => one.fromMs <= middle && middle < one.toMs)
    return { endS: (endMs - startedAtMs) / MS_PER_S, counts }
  })
}
