import { and, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { logFiles, type Packing } from '@/db/schema/log-files'
import { writeBytes } from '@/db/write-bytes'

export interface FilePiece {
  /** Which of the files of a recording, from 0. */
  readonly part: number
  readonly seq: number
  readonly packing: Packing
  readonly bytes: Uint8Array
}

export async function insertFilePiece(
  db: Database,
  key: LogKey & { readonly siteId: string },
  { part, seq, packing, bytes }: FilePiece,
): Promise<void> {
  const { machineId, logId, siteId } = key
  await writeBytes(
    db,
    sql`insert into log_files (machine_id, log_id, site_id, part, seq, packing, bytes)
      values (${machineId}, ${logId}, ${siteId}, ${part}, ${seq}, ${packing}, ${bytes})`,
  )
}

/** One piece of an original file, or null past the last. */
export async function findFilePiece(
  db: Database,
  key: LogKey,
  part: number,
  seq: number,
): Promise<FilePiece | null> {
  const { machineId, logId } = logFiles
  const [row] = await db
    .select({ part: logFiles.part, seq: logFiles.seq, packing: logFiles.packing, bytes: logFiles.bytes })
    .from(logFiles)
    .where(
      and(eq(machineId, key.machineId), eq(logId, key.logId), eq(logFiles.part, part), eq(logFiles.seq, seq)),
    )
  return row ?? null
}
