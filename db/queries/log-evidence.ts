import { and, asc, eq, getTableColumns } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { type LogEvidenceRow, logEvidence } from '@/db/schema/log-evidence'
import { monthDigests } from '@/db/schema/month-digests'

/** What was handed in of a log's sensors, in the order it came. */
export async function listLogEvidence(db: Database, key: LogKey): Promise<LogEvidenceRow[]> {
  return db
    .select()
    .from(logEvidence)
    .where(and(eq(logEvidence.machineId, key.machineId), eq(logEvidence.logId, key.logId)))
    .orderBy(asc(logEvidence.createdAt), asc(logEvidence.id))
}

/** What was handed in of the sensors of a month's logs, in the order it came. */
export async function listMonthEvidence(
  db: Database,
  siteId: string,
  month: string,
): Promise<LogEvidenceRow[]> {
  return db
    .select(getTableColumns(logEvidence))
    .from(monthDigests)
    .innerJoin(
      logEvidence,
      and(eq(logEvidence.machineId, monthDigests.machineId), eq(logEvidence.logId, monthDigests.logId)),
    )
    .where(and(eq(monthDigests.siteId, siteId), eq(monthDigests.month, month)))
    .orderBy(asc(logEvidence.createdAt), asc(logEvidence.id))
}

export async function insertLogEvidence(
  db: Database,
  evidence: Omit<LogEvidenceRow, 'createdAt'>,
): Promise<LogEvidenceRow> {
  const [made] = await db.insert(logEvidence).values(evidence).returning()
  return made
}
