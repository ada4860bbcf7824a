import { reportOf, reportPath } from '@/app/_server/reports/report-of'
import { reportXlsx } from '@/app/_server/reports/xlsx'
import { monthBefore } from '@/app/_server/views/month-names'
import type { Database } from '@/db/client'
import { listMonths } from '@/db/queries/month-totals'
import { finishReportRun, insertReportRun, type NewReportRun, startReportRun } from '@/db/queries/report-runs'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import type { LogError } from '@/db/schema/logs'
import { monthOf } from '@/lib/economics/local-time'
import { TankwardError } from '@/lib/errors'
import { ENGINE_VERSION } from './engine-version'
import { logFault } from './log-fault'
import { queueJob } from './queue'
import { printPage } from './report-pdf'

function errorOf(error: unknown): LogError {
  if (error instanceof TankwardError) return { code: error.code, values: { ...error.values } }
  logFault('report failed', error)
  return { code: 'report-failed', values: { reason: error instanceof Error ? error.message : String(error) } }
}

/** Makes a report and keeps it. Without a browser it has no PDF and says so; its spreadsheet is there all the same. */
async function makeReport(db: Database, { siteId, id, kind, subject }: NewReportRun): Promise<void> {
  await startReportRun(db, siteId, id)
  const finish = (error: LogError | null, files: { pdf: Uint8Array | null; xlsx: Uint8Array | null }) => {
    const state = files.xlsx ? 'done' : 'failed'
    return finishReportRun(db, siteId, id, { state, error, engineVersion: ENGINE_VERSION, ...files })
  }
  let xlsx: Uint8Array | null = null
  try {
    const report = await reportOf(db, kind, subject, new Date())
    if (!report) throw new TankwardError('nothing-to-report', { subject })
    xlsx = await reportXlsx(report)
    const pdf = await printPage(reportPath(kind, subject), report.title)
    await finish(null, { pdf, xlsx })
  } catch (error) {
    await finish(errorOf(error), { pdf: null, xlsx })
  }
}

/** Puts a report into the queue; false where one of its id was made before. */
export async function queueReport(db: Database, run: NewReportRun): Promise<boolean> {
  if (!(await insertReportRun(db, run))) return false
  queueJob(() => makeReport(db, run)).catch((error) => logFault('report could not be kept', error))
  return true
}

/** Puts the report of the last month that is over into the queue, once for each month that holds anything. */
export async function queueDueReports(db: Database, now: Date): Promise<boolean> {
  const { timeZone } = await siteSettings(db)
  const month = monthBefore(monthOf(now.getTime(), timeZone))
  const months = await listMonths(db, DEFAULT_SITE_ID)
  if (!months.includes(month)) return false
  // Its id is the month's, so that of several processes one makes it.
  const run = { id: `month-${month}`, siteId: DEFAULT_SITE_ID, kind: 'month', subject: month } as const
  return queueReport(db, { ...run, isScheduled: true })
}
