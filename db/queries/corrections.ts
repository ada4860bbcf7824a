import { and, asc, eq } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { type CorrectionRow, corrections } from '@/db/schema/corrections'

export type NewCorrection = Omit<CorrectionRow, 'createdAt'>

/** Later ones win where they overlap, so their order is part of what they say. */
const ORDER = [asc(corrections.createdAt), asc(corrections.id)]

const ofLog = (key: LogKey) => and(eq(corrections.machineId, key.machineId), eq(corrections.logId, key.logId))

/** A log's corrections in the order they were made. */
export async function listCorrections(db: Database, key: LogKey): Promise<CorrectionRow[]> {
  return db
    .select()
    .from(corrections)
    .where(ofLog(key))
    .orderBy(...ORDER)
}

/** Corrections of all logs of a machine, those of one log in the order they were made. */
export async function listMachineCorrections(db: Database, machineId: string): Promise<CorrectionRow[]> {
  return db
    .select()
    .from(corrections)
    .where(eq(corrections.machineId, machineId))
    .orderBy(...ORDER)
}

export async function insertCorrection(db: Database, correction: NewCorrection): Promise<CorrectionRow> {
  const [made] = await db.insert(corrections).values(correction).returning()
  return made
}

/** Takes a correction back; false where the log has no such one. */
export async function deleteCorrection(db: Database, key: LogKey, id: string): Promise<boolean> {
  const gone = await db
    .delete(corrections)
    .where(and(ofLog(key), eq(corrections.id, id)))
    .returning({ id: corrections.id })
  return gone.length > 0
}
