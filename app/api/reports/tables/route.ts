import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { download, FILE_TYPES } from '@/app/_server/download'
import { tableCsv } from '@/app/_server/reports/csv'
import { reportFileName, tablesOf } from '@/app/_server/reports/report'
import { isReportKind, reportOf } from '@/app/_server/reports/report-of'
import { reportXlsx } from '@/app/_server/reports/xlsx'
import { route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

/** A report's tables as the data stand now: one as CSV, or all as a spreadsheet. */
export const GET = route('read', async (request) => {
  const query = new URL(request.url).searchParams
  const kind = query.get('kind')
  const subject = query.get('subject') ?? ''
  if (!isReportKind(kind))
    throw new ApiProblem('bad-query', { name: 'kind', expected: 'month or machine', actual: kind ?? '' })
  const report = await reportOf(await database(), kind, subject, new Date())
  if (!report) throw new ApiProblem('nothing-to-report', { kind, subject })
  const name = reportFileName(report)
  const format = query.get('format') ?? 'csv'
  if (format === 'xlsx') return download(await reportXlsx(report), FILE_TYPES.xlsx, `${name}.xlsx`)
  if (format !== 'csv')
    throw new ApiProblem('bad-query', { name: 'format', expected: 'csv or xlsx', actual: format })
  const tables = tablesOf(report)
  const wanted = query.get('table')
  const table = tables.find(({ id }) => id === wanted)
  if (!table) {
    const expected = tables.map(({ id }) => id).join(', ')
    throw new ApiProblem('bad-query', { name: 'table', expected, actual: wanted ?? '' })
  }
  return download(tableCsv(table), FILE_TYPES.csv, `${name}-${table.id}.csv`)
})
