import { isMonth } from '@/app/_server/views/month-names'
import type { Database } from '@/db/client'
import { REPORT_KINDS, type ReportKind } from '@/db/schema/report-runs'
import { machineReport } from './machine-report'
import { monthReport } from './month-report'
import type { Report } from './report'

export const isReportKind = (text: string | null): text is ReportKind =>
  REPORT_KINDS.some((kind) => kind === text)

/** A report as the data stand now; null where there is nothing to report of. */
export async function reportOf(
  db: Database,
  kind: ReportKind,
  subject: string,
  now: Date,
): Promise<Report | null> {
  if (kind === 'machine') return machineReport(db, subject, now)
  return isMonth(subject) ? monthReport(db, subject, now) : null
}

/** Where its page made for print stands. */
export const reportPath = (kind: ReportKind, subject: string) =>
  `/reports/${kind}/${encodeURIComponent(subject)}`
