import { and, asc, desc, eq, gt, type SQL, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { logDigests } from '@/db/schema/log-digests'
import { type LogState, logs } from '@/db/schema/logs'
import { monthDigests } from '@/db/schema/month-digests'
import { monthTotals } from '@/db/schema/month-totals'
import type { Problem } from '@/lib/contract/result'

export interface LogQuality {
  readonly machineId: string
  readonly logId: string
  readonly fileName: string
  readonly startedAt: Date | null
  readonly durationS: number | null
  readonly rowsRead: number | null
  readonly rowsRejected: number | null
  readonly state: LogState
  /** Null where nothing is kept of its analysis: an earlier engine made it. */
  readonly problemCount: number | null
  readonly modelTrusted: boolean | null
}

/** The logs that add to a month, also those that have no digest yet. */
const logsOfMonth = (db: Database, siteId: string, month: string) =>
  db
    .selectDistinct({ machineId: monthTotals.machineId, logId: monthTotals.logId })
    .from(monthTotals)
    .where(and(eq(monthTotals.siteId, siteId), eq(monthTotals.month, month)))
    .as('of_month')

/** The logs that a month stands on, and how much was wrong with them. */
export async function listMonthQuality(db: Database, siteId: string, month: string): Promise<LogQuality[]> {
  const own = logsOfMonth(db, siteId, month)
  return db
    .select({
      machineId: logs.machineId,
      logId: logs.id,
      fileName: logs.fileName,
      startedAt: logs.startedAt,
      durationS: logs.durationS,
      rowsRead: logs.rowsRead,
      rowsRejected: logs.rowsRejected,
      state: logs.state,
      problemCount: logDigests.problemCount,
      modelTrusted: logDigests.modelTrusted,
    })
    .from(own)
    .innerJoin(logs, and(eq(logs.machineId, own.machineId), eq(logs.id, own.logId)))
    .leftJoin(logDigests, and(eq(logDigests.machineId, own.machineId), eq(logDigests.logId, own.logId)))
    .orderBy(asc(logs.machineId), asc(logs.startedAt), asc(logs.id))
}

export interface LogCounts {
  readonly logs: number
  /** Those with something to look at, and those of which an earlier engine left nothing to know. */
  readonly suspicious: number
  /** Those whose options are still being replayed: what was wrong with them is known then. */
  readonly replaying: number
}

/** How many logs a month stands on, and how many of those have something to look at. */
export async function countMonthLogs(db: Database, siteId: string, month: string): Promise<LogCounts> {
  const { isSound, machineId, logId } = monthDigests
  // Asked only of logs without a digest, of which there are few.
  const isReplaying = sql`${isSound} is null and exists (select from ${logs} where ${logs.machineId} = ${machineId} and ${logs.id} = ${logId} and ${logs.state} = 'replaying')`
  const countWhere = (condition: SQL) => sql<number>`(count(*) filter (where ${condition}))::integer`
  const [counts] = await db
    .select({
      logs: sql<number>`count(*)::integer`,
      suspicious: countWhere(sql`${isSound} is not true and not (${isReplaying})`),
      replaying: countWhere(isReplaying),
    })
    .from(monthDigests)
    .where(and(eq(monthDigests.siteId, siteId), eq(monthDigests.month, month)))
  return counts
}

/**
 * What was wrong with the logs of a month that need a look most: those whose model is not trusted, then those with most
 * to say.
 */
export async function listWorstProblems(
  db: Database,
  siteId: string,
  month: string,
  most: number,
): Promise<{ logId: string; problems: Problem[] }[]> {
  const { machineId, logId, modelTrusted, problemCount, problems } = logDigests
  return db
    .select({ logId, problems })
    .from(monthDigests)
    .innerJoin(logDigests, and(eq(machineId, monthDigests.machineId), eq(logId, monthDigests.logId)))
    .where(and(eq(monthDigests.siteId, siteId), eq(monthDigests.month, month), gt(problemCount, 0)))
    .orderBy(asc(modelTrusted), desc(problemCount), asc(machineId), asc(logId))
    .limit(most)
}
