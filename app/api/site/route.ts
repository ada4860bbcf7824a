import { logFault } from '@/app/_jobs/log-fault'
import { queueRefresh } from '@/app/_jobs/queue'
import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { isTimeZone } from '@/app/_server/time-zone'
import { listMachines } from '@/db/queries/machines'
import { saveSite, siteSettings } from '@/db/queries/sites'
import { siteSchema } from '@/lib/contract/site'

export const dynamic = 'force-dynamic'

export const GET = route('read', async () => json(await siteSettings(await database())))

/** Changes price, calendar, currency or zone; every log's figures are brought up to date after the answer. */
export const PUT = route('write', async (request) => {
  const settings = await readJson(request, siteSchema)
  if (!isTimeZone(settings.timeZone)) {
    const message = `unknown time zone "${settings.timeZone}"`
    const issue = { path: ['timeZone'], code: 'custom', expected: 'IANA time zone', message }
    throw new ApiProblem('invalid-shape', {}, { issues: [issue] })
  }
  const db = await database()
  await saveSite(db, settings)
  for (const { id } of await listMachines(db))
    queueRefresh(db, id).catch((error) => logFault(`refresh of machine ${id} failed`, error))
  return json(settings)
})
