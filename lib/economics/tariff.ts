import type { Site } from '@/lib/contract/site'
import { type WallClock, wallClock, wallClockInstants } from './local-time'

const HOURS_PER_DAY = 24
const WEEKDAYS = [1, 2, 3, 4, 5, 6, 7]

type Band = NonNullable<Site['tariff']>['bands'][number]

/**
 * Price of a kWh at an instant of the site's wall clock: the first band that holds it, else the site's
 * flat price. A band past midnight (22 to 6) belongs to the weekday it begins on; a band from an hour
 * to the same hour lasts the whole day from there.
 */
export function priceAt({ weekday, hour }: WallClock, site: Site): number {
  const band = bandsOf(site).find((one) => holds(one, weekday, hour))
  return band?.pricePerKWh ?? site.energyPricePerKWh
}

/** A stretch of one price; the list's stretches follow one another without a break. */
export interface PriceStretch {
  readonly startMs: number
  readonly endMs: number
  readonly pricePerKWh: number
}

/** The stretches of one price between two instants in epoch ms, changes of the clock included. */
export function priceStretches(fromMs: number, toMs: number, site: Site): PriceStretch[] {
  const bands = bandsOf(site)
  const edges = new Set(bands.flatMap((band) => [0, band.fromHour, band.toHour % HOURS_PER_DAY]))
  const inner = bands.length === 0 ? [] : wallClockInstants(fromMs, toMs, [...edges], site.timeZone)
  const bounds = [fromMs, ...inner, toMs]
  return bounds.slice(1).map((endMs, i) => {
    const startMs = bounds[i]
    const middle = wallClock((startMs + endMs) / 2, site.timeZone)
    return { startMs, endMs, pricePerKWh: priceAt(middle, site) }
  })
}

/**
 * Price of a kWh averaged over the hours of a plain week: what a recording without a date is costed at.
 */
export function weekMeanPrice(site: Site): number {
  const bands = bandsOf(site)
  const edges = bands.flatMap((band) => [band.fromHour, band.toHour])
  const bounds = [...new Set([0, ...edges, HOURS_PER_DAY])].sort((a, b) => a - b)
  let priceHours = 0
  for (const weekday of WEEKDAYS) {
    for (let i = 1; i < bounds.length; i += 1) {
      const middle = { weekday, hour: (bounds[i - 1] + bounds[i]) / 2 }
      priceHours += priceAt(middle, site) * (bounds[i] - bounds[i - 1])
    }
  }
  return priceHours / (WEEKDAYS.length * HOURS_PER_DAY)
}

function bandsOf(site: Site): readonly Band[] {
  return site.tariff?.bands ?? []
}

function holds(band: Band, weekday: number, hour: number): boolean {
  const today = band.weekdays.includes(weekday)
  if (band.fromHour < band.toHour) return today && hour >= band.fromHour && hour < band.toHour
  const dayBefore = weekday === 1 ? WEEKDAYS.length : weekday - 1
  return (today && hour >= band.fromHour) || (band.weekdays.includes(dayBefore) && hour < band.toHour)
}
