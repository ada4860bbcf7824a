import { logFault } from '@/app/_jobs/log-fault'
import { queueRefresh } from '@/app/_jobs/queue'
import type { Database } from '@/db/client'
import { listMachines } from '@/db/queries/machines'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID, saveSite, siteSettings } from '@/db/queries/sites'
import type { Site } from '@/lib/contract/site'
import { wallClock } from '@/lib/economics/local-time'
import { repricedDay } from '@/lib/economics/tariff-version'
import { ApiProblem } from './api-problem'
import { isTimeZone } from './time-zone'

/** Whether days that were logged, up to now, cost or emit otherwise with other settings. */
export async function correctsPast(db: Database, before: Site, after: Site, now: Date): Promise<boolean> {
  const today = wallClock(now.getTime(), after.timeZone).date
  return repricedDay(await listMonths(db, DEFAULT_SITE_ID), today, before, after) !== null
}

/**
 * Changes a site's settings, keeps the earlier ones in its history, and has every log that they concern brought up to
 * date after the answer.
 * @throws ApiProblem `invalid-shape` where no calendar knows the time zone
 */
export async function changeSite(
  db: Database,
  settings: Site,
  said: { readonly author: string | null; readonly reason: string | null },
  now: Date,
): Promise<Site> {
  if (!isTimeZone(settings.timeZone)) {
    const message = `unknown time zone "${settings.timeZone}"`
    const issue = { path: ['timeZone'], code: 'custom', expected: 'IANA time zone', message }
    throw new ApiProblem('invalid-shape', {}, { issues: [issue] })
  }
  const before = await siteSettings(db)
  const past = await correctsPast(db, before, settings, now)
  await saveSite(db, settings, DEFAULT_SITE_ID, { ...said, correctsPast: past })
  for (const { id } of await listMachines(db))
    queueRefresh(db, id).catch((error) => logFault(`refresh of machine ${id} failed`, error))
  return settings
}

/** Who changes something, and why, as the query says it. */
export function saidIn(request: Request): { author: string | null; reason: string | null } {
  const query = new URL(request.url).searchParams
  return { author: query.get('author')?.trim() || null, reason: query.get('reason')?.trim() || null }
}
