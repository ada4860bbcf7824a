import { and, asc, eq } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { type TrialRow, trials } from '@/db/schema/trials'

/** Trials of all logs of a machine, in the order they were entered. */
export async function listMachineTrials(db: Database, machineId: string): Promise<TrialRow[]> {
  return db
    .select()
    .from(trials)
    .where(eq(trials.machineId, machineId))
    .orderBy(asc(trials.createdAt), asc(trials.id))
}

export async function insertTrial(db: Database, trial: Omit<TrialRow, 'createdAt'>): Promise<TrialRow> {
  const [made] = await db.insert(trials).values(trial).returning()
  return made
}

/** Takes a trial back; false where the log has no such one. */
export async function deleteTrial(db: Database, key: LogKey, id: string): Promise<boolean> {
  const gone = await db
    .delete(trials)
    .where(and(eq(trials.machineId, key.machineId), eq(trials.logId, key.logId), eq(trials.id, id)))
    .returning({ id: trials.id })
  return gone.length > 0
}
