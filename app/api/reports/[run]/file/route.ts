import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { download, FILE_TYPES } from '@/app/_server/download'
import { reportFileName } from '@/app/_server/reports/report'
import { route } from '@/app/_server/route'
import { findReportFile, findReportRun } from '@/db/queries/report-runs'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  run: string
}

/** A kept report as it was made: PDF or spreadsheet. */
export const GET = route<Params>('read', async (request, { run: id }) => {
  const format = new URL(request.url).searchParams.get('format') ?? 'pdf'
  if (format !== 'pdf' && format !== 'xlsx')
    throw new ApiProblem('bad-query', { name: 'format', expected: 'pdf or xlsx', actual: format })
  const db = await database()
  const run = await findReportRun(db, DEFAULT_SITE_ID, id)
  const bytes = run && (await findReportFile(db, DEFAULT_SITE_ID, id, format))
  if (!run || !bytes) throw new ApiProblem('unknown-report', { id })
  return download(bytes, FILE_TYPES[format], `${reportFileName(run)}.${format}`)
})
