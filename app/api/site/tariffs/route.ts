import { changeSite, saidIn } from '@/app/_server/change-site'
import { database } from '@/app/_server/database'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { siteSettings } from '@/db/queries/sites'
import { type Site, siteSchema, TARIFF_KEYS, tariffFileSchema } from '@/lib/contract/site'

export const dynamic = 'force-dynamic'

const fileOf = (site: Site) => ({
  version: 1,
  ...Object.fromEntries(TARIFF_KEYS.flatMap((key) => (site[key] === undefined ? [] : [[key, site[key]]]))),
})

/** Prices, emission factors, holidays and shifts of the site as a file of their own. */
export const GET = route('read', async () =>
  json(fileOf(await siteSettings(await database())), {
    headers: { 'Content-Disposition': 'attachment; filename="tariffs-and-calendars.json"' },
  }),
)

/** Puts a file's prices, factors, holidays and shifts in the place of the site's: what it leaves out is gone, but for the prices that every site has. */
export const PUT = route('write', async (request) => {
  const file = await readJson(request, tariffFileSchema)
  const db = await database()
  const before: Record<string, unknown> = { ...(await siteSettings(db)) }
  for (const key of TARIFF_KEYS) if (file[key] !== undefined || !isRequired(key)) before[key] = file[key]
  return json(fileOf(await changeSite(db, siteSchema.parse(before), saidIn(request), new Date())))
})

const isRequired = (key: (typeof TARIFF_KEYS)[number]) =>
  ['energyPricePerKWh', 'emissionKgPerKWh', 'plannedHoursPerYear'].includes(key)
