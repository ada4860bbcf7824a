import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { json, route } from '@/app/_server/route'
import { reportAnswer } from '@/app/_server/views/reports-view'
import { deleteReportRun, findReportRun } from '@/db/queries/report-runs'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  run: string
}

/** How far a report is. */
export const GET = route<Params>('read', async (_request, { run: id }) => {
  const run = await findReportRun(await database(), DEFAULT_SITE_ID, id)
  if (!run) throw new ApiProblem('unknown-report', { id })
  return json(reportAnswer(run))
})

export const DELETE = route<Params>('write', async (_request, { run: id }) => {
  if (!(await deleteReportRun(await database(), DEFAULT_SITE_ID, id)))
    throw new ApiProblem('unknown-report', { id })
  return new Response(null, { status: 204 })
})
