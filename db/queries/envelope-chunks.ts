import { and, asc, between, eq, inArray, or } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { envelopeChunks } from '@/db/schema/envelope-chunks'

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

const ROWS_A_STATEMENT = 500

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
  for (let start = 0; start < chunks.length; start += ROWS_A_STATEMENT) {
    const rows = chunks.slice(start, start + ROWS_A_STATEMENT)
    await db.insert(envelopeChunks).values(rows.map((chunk) => ({ ...key, ...chunk })))
  }
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
