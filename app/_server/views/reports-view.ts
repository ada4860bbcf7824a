import { z } from 'zod'
import { chromiumPath } from '@/app/_jobs/report-pdf'
import { byName } from '@/app/_ui/name-order'
import { errorWords } from '@/app/_words/errors'
import type { Database } from '@/db/client'
import { listMachineNames, type MachineName } from '@/db/queries/machines'
import { listMonths } from '@/db/queries/month-totals'
import { listReportRuns, type ReportRunFacts } from '@/db/queries/report-runs'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { REPORT_KINDS, REPORT_STATES } from '@/db/schema/report-runs'
import { TankwardError } from '@/lib/errors'

/** What is asked for. */
export const newReportSchema = z.object({
  kind: z.enum(REPORT_KINDS),
  /** The month as `YYYY-MM`, or the machine's id. */
  subject: z.string().min(1),
})

/** A report that was made, is being made or could not be made. */
export const reportAnswerSchema = z.object({
  id: z.string(),
  kind: z.enum(REPORT_KINDS),
  subject: z.string(),
  /** Whether it came due by itself. */
  isScheduled: z.boolean(),
  state: z.enum(REPORT_STATES),
  /** Why it failed or has no PDF, in words. */
  failure: z.string().nullable(),
  engineVersion: z.number().int().nullable(),
  createdAt: z.string(),
  endedAt: z.string().nullable(),
  /** Where its files are; null where it has none. */
  pdf: z.string().nullable(),
  xlsx: z.string().nullable(),
})
export type ReportAnswer = z.infer<typeof reportAnswerSchema>

export function reportAnswer(run: ReportRunFacts): ReportAnswer {
  const { id, kind, subject, isScheduled, state, error, engineVersion, createdAt, endedAt } = run
  const words = error && errorWords(new TankwardError(error.code, error.values))
  const file = (format: 'pdf' | 'xlsx', isThere: boolean) =>
    isThere ? `/api/reports/${encodeURIComponent(id)}/file?format=${format}` : null
  return {
    id,
    kind,
    subject,
    isScheduled,
    state,
    failure: words ? `${words.title}. ${words.detail}` : null,
    engineVersion,
    createdAt: createdAt.toISOString(),
    endedAt: endedAt?.toISOString() ?? null,
    pdf: file('pdf', run.hasPdf),
    xlsx: file('xlsx', run.hasXlsx),
  }
}

export interface ReportsView {
  readonly reports: readonly ReportAnswer[]
  readonly months: readonly string[]
  readonly machines: readonly MachineName[]
  readonly timeZone: string
  /** Whether this server can make PDFs. */
  readonly hasBrowser: boolean
}

/** Reports that were made, and what reports can be made of. */
export async function reportsView(db: Database): Promise<ReportsView> {
  const { timeZone } = await siteSettings(db)
  return {
    reports: (await listReportRuns(db, DEFAULT_SITE_ID)).map(reportAnswer),
    months: await listMonths(db, DEFAULT_SITE_ID),
    machines: byName(await listMachineNames(db, DEFAULT_SITE_ID)),
    timeZone,
    hasBrowser: chromiumPath() !== null,
  }
}
