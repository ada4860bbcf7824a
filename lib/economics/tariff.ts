import type { Site } from '@/lib/contract/site'
import { type DayKind, dayKind, isAmong } from './day-kind'
import { dayBefore, type LocalDay, wallClock, wallClockInstants } from './local-time'
import { tariffOn } from './tariff-version'
import { lastBeginning } from './validity'

const HOURS_PER_DAY = 24

type Band = NonNullable<Site['tariff']>['bands'][number]

/**
 * Price of a kWh at an hour of a local day: the first band of the day's tariff that holds it, else that tariff's flat
 * price. A band past midnight (22 to 6) belongs to the day it begins on, with that day's kind and season; a band from
 * an hour to the same hour lasts the whole day from there.
 */
export function priceAt(day: LocalDay, hour: number, site: Site): number {
  const { bands, energyPricePerKWh } = tariffOn(day.date, site)
  if (bands.length === 0) return energyPricePerKWh
  const today = asSeen(day, site)
  const yesterday = asSeen(dayBefore(day), site)
  const band = bands.find((one) => holds(one, today, yesterday, hour))
  return band?.pricePerKWh ?? energyPricePerKWh
}

interface SeenDay extends DayKind {
  readonly monthDay: string
}

const asSeen = ({ date, weekday }: LocalDay, site: Site): SeenDay => ({
  ...dayKind(date, weekday, site),
  monthDay: date.slice('YYYY-'.length),
})

function isInSeason({ seasons }: Band, monthDay: string): boolean {
  if (!seasons) return true
  return seasons.some(({ from, to }) =>
    from <= to ? from <= monthDay && monthDay <= to : from <= monthDay || monthDay <= to,
  )
}

function holds(band: Band, today: SeenDay, yesterday: SeenDay, hour: number): boolean {
  const begins = isAmong(today, band) && isInSeason(band, today.monthDay)
  if (band.fromHour < band.toHour) return begins && hour >= band.fromHour && hour < band.toHour
  if (begins && hour >= band.fromHour) return true
  return hour < band.toHour && isAmong(yesterday, band) && isInSeason(band, yesterday.monthDay)
}

/** A stretch of one price; the list's stretches follow one another without a break. */
export interface PriceStretch {
  readonly startMs: number
  readonly endMs: number
  readonly pricePerKWh: number
}

/** The stretches of one price between two instants in epoch ms, changes of clock and of tariff included. */
export function priceStretches(fromMs: number, toMs: number, site: Site): PriceStretch[] {
  const bands = everyBand(site)
  const edges = new Set(bands.flatMap((band) => [band.fromHour, band.toHour % HOURS_PER_DAY]))
  if (bands.length > 0 || site.tariffs?.length) edges.add(0)
  const inner = edges.size === 0 ? [] : wallClockInstants(fromMs, toMs, [...edges], site.timeZone)
  const bounds = [fromMs, ...inner, toMs]
  return bounds.slice(1).map((endMs, i) => {
    const startMs = bounds[i]
    const { hour, ...day } = wallClock((startMs + endMs) / 2, site.timeZone)
    return { startMs, endMs, pricePerKWh: priceAt(day, hour, site) }
  })
}

/** A year like any other, whose days an undated recording is costed over. */
const PLAIN_YEAR_DAYS = Array.from({ length: 365 }, (_, day) =>
  new Date(Date.UTC(2001, 0, 1 + day)).toISOString().slice('YYYY-'.length, 'YYYY-MM-DD'.length),
)
const WEEKDAYS = [1, 2, 3, 4, 5, 6, 7]

/**
 * Price of a kWh averaged over the hours of a week without holidays, in the latest tariff, and where bands have
 * seasons over the days of a year: what a recording without a date is costed at.
 */
export function weekMeanPrice(site: Site): number {
  const { bands, energyPricePerKWh } = tariffOn(lastBeginning(site.tariffs), site)
  const bounds = [
    ...new Set([0, ...bands.flatMap((band) => [band.fromHour, band.toHour]), HOURS_PER_DAY]),
  ].sort((a, b) => a - b)
  const monthDays = bands.some((band) => band.seasons) ? PLAIN_YEAR_DAYS : PLAIN_YEAR_DAYS.slice(0, 1)
  let priceHours = 0
  for (const monthDay of monthDays) {
    for (const weekday of WEEKDAYS) {
      const today = { weekday, dayType: null, monthDay }
      const yesterday = { ...today, weekday: weekday === 1 ? WEEKDAYS.length : weekday - 1 }
      for (let i = 1; i < bounds.length; i += 1) {
        const hour = (bounds[i - 1] + bounds[i]) / 2
        const band = bands.find((one) => holds(one, today, yesterday, hour))
        priceHours += (band?.pricePerKWh ?? energyPricePerKWh) * (bounds[i] - bounds[i - 1])
      }
    }
  }
  return priceHours / (monthDays.length * WEEKDAYS.length * HOURS_PER_DAY)
}

const everyBand = (site: Site): readonly Band[] => [
  ...(site.tariff?.bands ?? []),
  ...(site.tariffs ?? []).flatMap((version) => version.bands),
]
