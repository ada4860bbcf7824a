import { queueReport } from '@/app/_jobs/report-run'
import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { newId } from '@/app/_server/new-id'
import { readJson } from '@/app/_server/read-json'
import { reportOf } from '@/app/_server/reports/report-of'
import { json, route } from '@/app/_server/route'
import { newReportSchema, reportAnswer } from '@/app/_server/views/reports-view'
import { findReportRun, listReportRuns } from '@/db/queries/report-runs'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

/** Reports that were made or are being made, latest first. */
export const GET = route('read', async () => {
  const runs = await listReportRuns(await database(), DEFAULT_SITE_ID)
  return json({ reports: runs.map(reportAnswer) })
})

/** Makes a report when its turn comes, and keeps it. */
export const POST = route('write', async (request) => {
  const { kind, subject } = await readJson(request, newReportSchema)
  const db = await database()
  if (!(await reportOf(db, kind, subject, new Date())))
    throw new ApiProblem('nothing-to-report', { kind, subject })
  const id = newId()
  await queueReport(db, { id, siteId: DEFAULT_SITE_ID, kind, subject, isScheduled: false })
  const run = await findReportRun(db, DEFAULT_SITE_ID, id)
  if (!run) throw new ApiProblem('unknown-report', { id })
  return json(reportAnswer(run), { status: 202, headers: { Location: `/api/reports/${id}` } })
})
