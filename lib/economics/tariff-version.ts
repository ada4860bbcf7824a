import type { Validity } from '@/lib/contract/local-dates'
import type { Site } from '@/lib/contract/site'
import { dayKind } from './day-kind'
import { dayAfter, dayBefore, daysOfMonth, localDay, wallClock } from './local-time'
import { LAST_DATE, lastBeginning, versionOn } from './validity'

type Tariff = NonNullable<Site['tariff']>

export interface DayTariff extends Tariff {
  readonly energyPricePerKWh: number
}

/** Flat price, bands and charges that hold on a date: the version's of that day, else the site's own. */
export function tariffOn(date: string, site: Site): DayTariff {
  const version = versionOn(site.tariffs, date)
  if (version) return version
  return { bands: [], ...site.tariff, energyPricePerKWh: site.energyPricePerKWh }
}

/** Emission factor of a date in kg CO₂ per kWh. */
export function emissionOn(date: string, site: Site): number {
  return versionOn(site.emissions, date)?.kgPerKWh ?? site.emissionKgPerKWh
}

/**
 * The site as a recording meets it: price, tariff and emission factor of the day it begins on as the site's own, and of
 * the versions only those that hold on one of its days. What changes on other days, and shifts and holidays that price
 * nothing, is left out, so that it leaves the recording's figures alone. One without a date meets the latest versions.
 * @param startedAtMs instant of the first sample, epoch ms
 * @param endedAtMs instant after the last
 */
export function siteMet(site: Site, startedAtMs: number | null, endedAtMs: number | null): Site {
  const { tariffs, emissions, calendars: _, holidays, ...rest } = site
  const from = startedAtMs === null ? null : wallClock(startedAtMs, site.timeZone).date
  const to = endedAtMs === null ? from : wallClock(endedAtMs, site.timeZone).date
  const { energyPricePerKWh, ...tariff } = tariffOn(from ?? lastBeginning(tariffs), site)
  const emissionKgPerKWh = emissionOn(from ?? lastBeginning(emissions), site)
  const edges = (tariffs ?? []).flatMap((one) => [one.from, ...(one.until ? [dayAfter(one.until)] : [])])
  const changes = from !== null && to !== null && edges.some((edge) => from < edge && edge <= to)
  // Where the tariff changes within the recording both sides of the change are needed, with their dates.
  if (changes)
    return withHolidays({ ...rest, emissionKgPerKWh, tariffs: tariffs?.filter(touches(from, to)) }, holidays)
  const { bands, demand, reactive } = tariff
  const met: Site = { ...rest, energyPricePerKWh, emissionKgPerKWh }
  if (bands.length > 0 || demand || reactive) met.tariff = { bands, demand, reactive }
  else delete met.tariff
  return withHolidays(met, holidays)
}

const touches = (from: string, to: string) => (one: Validity) =>
  one.from <= to && from <= (one.until ?? LAST_DATE)

/** Holidays matter to prices only where bands look at days. */
function withHolidays(site: Site, holidays: Site['holidays']): Site {
  const looks = site.tariff?.bands.length || site.tariffs?.some((one) => one.bands.length)
  return looks && holidays?.length ? { ...site, holidays } : site
}

/** Whether a day costs and emits the same by two sites' settings, holidays among them. */
export function isPricedAlike(date: string, a: Site, b: Site): boolean {
  const seen = (site: Site) => {
    const { energyPricePerKWh, bands, demand, reactive } = tariffOn(date, site)
    // Holidays move prices only where bands look at days; the night before may reach into the day.
    const days = bands.length > 0 ? [dayBefore(localDay(date)), localDay(date)] : []
    const kinds = days.map((day) => dayKind(day.date, day.weekday, site))
    return [emissionOn(date, site), site.timeZone, energyPricePerKWh, bands, demand, reactive, kinds]
  }
  return JSON.stringify(seen(a)) === JSON.stringify(seen(b))
}

/**
 * The first day that costs or emits otherwise by other settings, of the days of some months that lie before a date;
 * null where all cost as before.
 * @param months `YYYY-MM`, in any order
 * @param before `YYYY-MM-DD`
 */
export function repricedDay(months: readonly string[], before: string, a: Site, b: Site): string | null {
  for (const month of [...months].sort()) {
    const day = daysOfMonth(month).find(({ date }) => date < before && !isPricedAlike(date, a, b))
    if (day) return day.date
  }
  return null
}
