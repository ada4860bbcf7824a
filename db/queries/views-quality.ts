import { and, eq, inArray, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { analyses } from '@/db/schema/analyses'
import { logs } from '@/db/schema/logs'
import { monthTotals } from '@/db/schema/month-totals'
import type { Analysis, Problem } from '@/lib/contract/result'

export interface LogQuality {
  readonly machineId: string
  readonly logId: string
  readonly fileName: string
  readonly startedAt: Date | null
  readonly durationS: number | null
  readonly rowsRead: number | null
  readonly rowsRejected: number | null
  readonly problems: Problem[]
  readonly model: Analysis['model']
}

/** What was wrong with the logs that a month stands on. */
export async function listMonthQuality(db: Database, siteId: string, month: string): Promise<LogQuality[]> {
  const inMonth = db
    .selectDistinct({ logId: monthTotals.logId })
    .from(monthTotals)
    .where(and(eq(monthTotals.siteId, siteId), eq(monthTotals.month, month)))
  return db
    .select({
      machineId: logs.machineId,
      logId: logs.id,
      fileName: logs.fileName,
      startedAt: logs.startedAt,
      durationS: logs.durationS,
      rowsRead: logs.rowsRead,
      rowsRejected: logs.rowsRejected,
      problems: sql<Problem[]>`coalesce(${analyses.analysis} #> '{log,problems}', '[]'::jsonb)`,
      model: sql<Analysis['model']>`${analyses.analysis} -> 'model'`,
    })
    .from(logs)
    .innerJoin(analyses, and(eq(analyses.machineId, logs.machineId), eq(analyses.logId, logs.id)))
    .where(inArray(logs.id, inMonth))
    .orderBy(logs.machineId, logs.startedAt)
}
