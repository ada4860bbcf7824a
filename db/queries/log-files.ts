import { and, asc, eq } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { logFiles, type Packing } from '@/db/schema/log-files'

export interface FilePiece {
  readonly seq: number
  readonly packing: Packing
  readonly bytes: Uint8Array
}

export async function insertFilePiece(
  db: Database,
  key: LogKey & { readonly siteId: string },
  piece: FilePiece,
): Promise<void> {
  await db.insert(logFiles).values({ ...key, ...piece })
}

/** One piece of the original file, or null past the last. */
export async function findFilePiece(db: Database, key: LogKey, seq: number): Promise<FilePiece | null> {
  const [row] = await db
    .select({ seq: logFiles.seq, packing: logFiles.packing, bytes: logFiles.bytes })
    .from(logFiles)
    .where(and(eq(logFiles.machineId, key.machineId), eq(logFiles.logId, key.logId), eq(logFiles.seq, seq)))
    .orderBy(asc(logFiles.seq))
  return row ?? null
}
