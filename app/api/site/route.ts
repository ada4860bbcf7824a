import { changeSite, saidIn } from '@/app/_server/change-site'
import { database } from '@/app/_server/database'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { siteSettings } from '@/db/queries/sites'
import { siteSchema } from '@/lib/contract/site'

export const dynamic = 'force-dynamic'

export const GET = route('read', async () => json(await siteSettings(await database())))

/** Changes price, calendar, currency or zone; every log they concern is brought up to date after the answer. */
export const PUT = route('write', async (request) => {
  const settings = await readJson(request, siteSchema)
  return json(await changeSite(await database(), settings, saidIn(request), new Date()))
})
