import { type Site, siteSchema } from '@/lib/contract/site'

const WEEKDAYS = [1, 2, 3, 4, 5]
const EVERY_DAY = [...WEEKDAYS, 6, 7]

/** Vienna: workdays 6–22 at 0.30, nights 22–6 at 0.15, what is left (weekend days) at the flat 0.20. */
export const VIENNA: Site = siteSchema.parse({
  timeZone: 'Europe/Vienna',
  energyPricePerKWh: 0.2,
  tariff: {
    bands: [
      { name: 'day', weekdays: WEEKDAYS, fromHour: 6, toHour: 22, pricePerKWh: 0.3 },
      { name: 'night', weekdays: EVERY_DAY, fromHour: 22, toHour: 6, pricePerKWh: 0.15 },
    ],
    demand: { pricePerKWMonth: 8, windowMinutes: 15, coincidenceShare: 0.5 },
  },
})

/** One band at 1, all else at 0: what a recording costs is then the hours (kWh at 1 kW) inside the band. */
export function onlyBand(fromHour: number, toHour: number, weekdays: number[] = EVERY_DAY): Site {
  const bands = [{ name: 'only', weekdays, fromHour, toHour, pricePerKWh: 1 }]
  return siteSchema.parse({ timeZone: 'Europe/Vienna', energyPricePerKWh: 0, tariff: { bands } })
}
