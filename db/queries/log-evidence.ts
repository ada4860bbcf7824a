import { and, asc, eq } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { type LogEvidenceRow, logEvidence } from '@/db/schema/log-evidence'

/** What was handed in of a log's sensors, in the order it came. */
export async function listLogEvidence(db: Database, key: LogKey): Promise<LogEvidenceRow[]> {
  return db
    .select()
    .from(logEvidence)
    .where(and(eq(logEvidence.machineId, key.machineId), eq(logEvidence.logId, key.logId)))
    .orderBy(asc(logEvidence.createdAt), asc(logEvidence.id))
}

export async function insertLogEvidence(
  db: Database,
  evidence: Omit<LogEvidenceRow, 'createdAt'>,
): Promise<LogEvidenceRow> {
  const [made] = await db.insert(logEvidence).values(evidence).returning()
  return made
}
