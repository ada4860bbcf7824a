import { and, eq } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { logDigests } from '@/db/schema/log-digests'
import { logs } from '@/db/schema/logs'
import { monthDigests } from '@/db/schema/month-digests'
import type { Problem } from '@/lib/contract/result'

export interface LogQuality {
  readonly machineId: string
  readonly logId: string
  readonly fileName: string
  readonly startedAt: Date | null
  readonly durationS: number | null
  readonly rowsRead: number | null
  readonly rowsRejected: number | null
  readonly problems: Problem[]
  readonly modelTrusted: boolean
}

/** What was wrong with the logs that a month stands on. */
export async function listMonthQuality(db: Database, siteId: string, month: string): Promise<LogQuality[]> {
  return db
    .select({
      machineId: logs.machineId,
      logId: logs.id,
      fileName: logs.fileName,
      startedAt: logs.startedAt,
      durationS: logs.durationS,
      rowsRead: logs.rowsRead,
      rowsRejected: logs.rowsRejected,
      problems: logDigests.problems,
      modelTrusted: logDigests.modelTrusted,
    })
    .from(monthDigests)
    .innerJoin(logs, and(eq(logs.machineId, monthDigests.machineId), eq(logs.id, monthDigests.logId)))
    .innerJoin(logDigests, and(eq(logDigests.machineId, logs.machineId), eq(logDigests.logId, logs.id)))
    .where(and(eq(monthDigests.siteId, siteId), eq(monthDigests.month, month)))
    .orderBy(logs.machineId, logs.startedAt)
}
