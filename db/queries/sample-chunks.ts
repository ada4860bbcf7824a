import { and, asc, between, desc, eq, inArray, lte } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { sampleChunks } from '@/db/schema/sample-chunks'

export interface SampleChunk {
  readonly channel: string
  readonly seq: number
  readonly firstSample: number
  readonly sampleCount: number
  readonly startS: number
  readonly bytes: Uint8Array
}

/** Rows a statement: well below the 65,535 parameters PostgreSQL takes. */
const ROWS_A_STATEMENT = 500

const of = (key: LogKey, channel: string) =>
  and(
    eq(sampleChunks.machineId, key.machineId),
    eq(sampleChunks.logId, key.logId),
    eq(sampleChunks.channel, channel),
  )

export async function insertSampleChunks(
  db: Database,
  key: LogKey & { readonly siteId: string },
  chunks: readonly SampleChunk[],
): Promise<void> {
  for (let start = 0; start < chunks.length; start += ROWS_A_STATEMENT) {
    const rows = chunks.slice(start, start + ROWS_A_STATEMENT)
    await db.insert(sampleChunks).values(rows.map((chunk) => ({ ...key, ...chunk })))
  }
}

/** A channel's chunks in order, all of them or those from `fromSeq` to `toSeq`. */
export async function listSampleChunks(
  db: Database,
  key: LogKey,
  channel: string,
  range?: { readonly fromSeq: number; readonly toSeq: number },
): Promise<SampleChunk[]> {
  return db
    .select({
      channel: sampleChunks.channel,
      seq: sampleChunks.seq,
      firstSample: sampleChunks.firstSample,
      sampleCount: sampleChunks.sampleCount,
      startS: sampleChunks.startS,
      bytes: sampleChunks.bytes,
    })
    .from(sampleChunks)
    .where(and(of(key, channel), range && between(sampleChunks.seq, range.fromSeq, range.toSeq)))
    .orderBy(asc(sampleChunks.seq))
}

/** The last chunk that begins at or before an elapsed time, or null before the first. */
export async function findChunkAt(
  db: Database,
  key: LogKey,
  channel: string,
  timeS: number,
): Promise<SampleChunk | null> {
  const [found] = await db
    .select({ seq: sampleChunks.seq })
    .from(sampleChunks)
    .where(and(of(key, channel), lte(sampleChunks.startS, timeS)))
    .orderBy(desc(sampleChunks.seq))
    .limit(1)
  if (!found) return null
  const [chunk] = await listSampleChunks(db, key, channel, { fromSeq: found.seq, toSeq: found.seq })
  return chunk ?? null
}

/** Deletes the chunks of these channels, or of all where none are named. */
export async function deleteSampleChunks(
  db: Database,
  key: LogKey,
  channels?: readonly string[],
): Promise<void> {
  const ofKey = and(eq(sampleChunks.machineId, key.machineId), eq(sampleChunks.logId, key.logId))
  await db.delete(sampleChunks).where(and(ofKey, channels && inArray(sampleChunks.channel, [...channels])))
}
