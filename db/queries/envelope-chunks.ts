import { and, asc, between, eq, inArray, or, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { envelopeChunks } from '@/db/schema/envelope-chunks'
import { writeRowsOfBytes } from '@/db/write-bytes'

export interface EnvelopeChunk {
  readonly channel: string
  readonly level: number
  readonly seq: number
  readonly bytes: Uint8Array
}

export interface EnvelopeRange {
  readonly level: number
  readonly fromSeq: number
  readonly toSeq: number
}

const of = (key: LogKey, channels: readonly string[]) =>
  and(
    eq(envelopeChunks.machineId, key.machineId),
    eq(envelopeChunks.logId, key.logId),
    inArray(envelopeChunks.channel, [...channels]),
  )

export async function insertEnvelopeChunks(
  db: Database,
  key: LogKey & { readonly siteId: string },
  chunks: readonly EnvelopeChunk[],
): Promise<void> {
  const { machineId, logId, siteId } = key
  await writeRowsOfBytes(
    db,
    chunks,
    (json, bytes) => sql`
      insert into envelope_chunks (machine_id, log_id, site_id, channel, level, seq, bytes)
      select ${machineId}, ${logId}, ${siteId}, channel, level, seq, substring(${bytes}::bytea from at for length)
      from json_to_recordset(${json}::text::json) as chunk
        (channel text, level int, seq int, at int, length int)`,
  )
}

/** The chunks of these channels' envelopes in the given stretches of levels, by level and place. */
export async function listEnvelopeChunks(
  db: Database,
  key: LogKey,
  channels: readonly string[],
  ranges: readonly EnvelopeRange[],
): Promise<EnvelopeChunk[]> {
  if (ranges.length === 0) return []
  const wanted = ranges.map((range) =>
    and(eq(envelopeChunks.level, range.level), between(envelopeChunks.seq, range.fromSeq, range.toSeq)),
  )
  return db
    .select({
      channel: envelopeChunks.channel,
      level: envelopeChunks.level,
      seq: envelopeChunks.seq,
      bytes: envelopeChunks.bytes,
    })
    .from(envelopeChunks)
    .where(and(of(key, channels), or(...wanted)))
    .orderBy(asc(envelopeChunks.level), asc(envelopeChunks.seq))
}

/** Deletes the envelopes of these channels, or of all where none are named. */
export async function deleteEnvelopeChunks(
  db: Database,
  key: LogKey,
  channels?: readonly string[],
): Promise<void> {
  const ofKey = and(eq(envelopeChunks.machineId, key.machineId), eq(envelopeChunks.logId, key.logId))
  await db
    .delete(envelopeChunks)
    .where(and(ofKey, channels && inArray(envelopeChunks.channel, [...channels])))
}
