import { and, desc, eq, max, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { analyses } from '@/db/schema/analyses'
import { logs } from '@/db/schema/logs'
import { type MonthTotalsRow, monthTotals } from '@/db/schema/month-totals'
import type { Analysis } from '@/lib/contract/result'

/** Rows of each machine's latest month that holds anything. */
export async function listLatestMonthTotals(db: Database, siteId: string): Promise<MonthTotalsRow[]> {
  const latest = db
    .select({ machineId: monthTotals.machineId, month: max(monthTotals.month).as('latest_month') })
    .from(monthTotals)
    .where(eq(monthTotals.siteId, siteId))
    .groupBy(monthTotals.machineId)
    .as('latest')
  const rows = await db
    .select({ totals: monthTotals })
    .from(monthTotals)
    .innerJoin(latest, and(eq(monthTotals.machineId, latest.machineId), eq(monthTotals.month, latest.month)))
  return rows.map((row) => row.totals)
}

/** What a comparison needs of an analysis; the phases, by far the largest part, stay where they are. */
export type AnalysisDigest = Pick<Analysis, 'options' | 'cycles' | 'meterSharesKWh' | 'ledgerKWh' | 'model'>

export interface LatestDigest {
  readonly machineId: string
  readonly logId: string
  readonly startedAt: Date | null
  readonly receivedAt: Date
  readonly digest: AnalysisDigest
}

/** Of each machine's latest stored recording, the parts a comparison needs. */
export async function listLatestDigests(db: Database): Promise<LatestDigest[]> {
  const part = (name: keyof AnalysisDigest) => sql`${name}::text, ${analyses.analysis} -> ${name}::text`
  const digest = sql<AnalysisDigest>`jsonb_build_object(${part('options')}, ${part('cycles')}, ${part('meterSharesKWh')}, ${part('ledgerKWh')}, ${part('model')})`
  return db
    .selectDistinctOn([analyses.machineId], {
      machineId: analyses.machineId,
      logId: analyses.logId,
      startedAt: logs.startedAt,
      receivedAt: logs.createdAt,
      digest,
    })
    .from(analyses)
    .innerJoin(logs, and(eq(logs.machineId, analyses.machineId), eq(logs.id, analyses.logId)))
    .orderBy(analyses.machineId, sql`${logs.startedAt} desc nulls last`, desc(logs.createdAt))
}
