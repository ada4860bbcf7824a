import { and, asc, between, eq, inArray, or, type SQL, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { sampleChunks } from '@/db/schema/sample-chunks'
import { writeRowsOfBytes } from '@/db/write-bytes'

export interface SampleChunk {
  readonly channel: string
  readonly seq: number
  readonly firstSample: number
  readonly sampleCount: number
  readonly startS: number
  readonly bytes: Uint8Array
}

const ofLog = (key: LogKey) =>
  and(eq(sampleChunks.machineId, key.machineId), eq(sampleChunks.logId, key.logId))

const of = (key: LogKey, channel: string) => and(ofLog(key), eq(sampleChunks.channel, channel))

const COLUMNS = {
  channel: sampleChunks.channel,
  seq: sampleChunks.seq,
  firstSample: sampleChunks.firstSample,
  sampleCount: sampleChunks.sampleCount,
  startS: sampleChunks.startS,
  bytes: sampleChunks.bytes,
}

export async function insertSampleChunks(
  db: Database,
  key: LogKey & { readonly siteId: string },
  chunks: readonly SampleChunk[],
): Promise<void> {
  const { machineId, logId, siteId } = key
  await writeRowsOfBytes(
    db,
    chunks,
    (json, bytes) => sql`
      insert into sample_chunks
        (machine_id, log_id, site_id, channel, seq, first_sample, sample_count, start_s, bytes)
      select ${machineId}, ${logId}, ${siteId}, channel, seq, "firstSample", "sampleCount", "startS",
        substring(${bytes}::bytea from at for length)
      from json_to_recordset(${json}::text::json) as chunk
        (channel text, seq int, "firstSample" int, "sampleCount" int, "startS" float8, at int, length int)`,
  )
}

/** A channel's chunks in order, all of them or those from `fromSeq` to `toSeq`. */
export async function listSampleChunks(
  db: Database,
  key: LogKey,
  channel: string,
  range?: { readonly fromSeq: number; readonly toSeq: number },
): Promise<SampleChunk[]> {
  return db
    .select(COLUMNS)
    .from(sampleChunks)
    .where(and(of(key, channel), range && between(sampleChunks.seq, range.fromSeq, range.toSeq)))
    .orderBy(asc(sampleChunks.seq))
}

export interface SampleRange {
  readonly fromSeq: number
  readonly toSeq: number
}

/** The chunks of these channels in the given stretches, by place. */
export async function listStretches(
  db: Database,
  key: LogKey,
  channels: readonly string[],
  ranges: readonly SampleRange[],
): Promise<SampleChunk[]> {
  if (ranges.length === 0) return []
  const wanted = ranges.map(({ fromSeq, toSeq }) => between(sampleChunks.seq, fromSeq, toSeq))
  return db
    .select(COLUMNS)
    .from(sampleChunks)
    .where(and(ofLog(key), inArray(sampleChunks.channel, [...channels]), or(...wanted)))
    .orderBy(asc(sampleChunks.seq))
}

/**
 * Place of the last chunk that begins at or before an instant. Samples come nearly evenly, so it is sought from where it
 * would be if they did: from the end on, the start of a long log lies thousands of rows away.
 */
function seqAt(key: LogKey, channel: string, timeS: number): SQL {
  const ofChannel = of(key, channel)
  const time = sql`${timeS}::float8`
  return sql`(
    select case
      when near.start_s <= ${time} then (
        select seq from ${sampleChunks} where ${ofChannel} and seq < coalesce(
          (select seq from ${sampleChunks} where ${ofChannel} and seq > near.seq and start_s > ${time} order by seq limit 1),
          last.seq + 1)
        order by seq desc limit 1)
      else (
        select seq from ${sampleChunks} where ${ofChannel} and seq < near.seq and start_s <= ${time} order by seq desc limit 1)
      end
    from (select seq, start_s from ${sampleChunks} where ${ofChannel} order by seq desc limit 1) as last
    cross join lateral (
      select seq, start_s from ${sampleChunks}
      where ${ofChannel} and seq <= least(
        last.seq::float8, greatest(0, floor(last.seq * (${time} / nullif(last.start_s, 0)))))::int
      order by seq desc limit 1) as near)`
}

/** The last chunks of a channel that begin at or before these instants, in order; none for one before the first. */
export async function findChunksAt(
  db: Database,
  key: LogKey,
  channel: string,
  timesS: readonly number[],
): Promise<SampleChunk[]> {
  const isWanted = timesS.map((timeS) => sql`${sampleChunks.seq} = ${seqAt(key, channel, timeS)}`)
  return db
    .select(COLUMNS)
    .from(sampleChunks)
    .where(and(of(key, channel), or(...isWanted)))
    .orderBy(asc(sampleChunks.seq))
}

/** Deletes the chunks of these channels, or of all where none are named. */
export async function deleteSampleChunks(
  db: Database,
  key: LogKey,
  channels?: readonly string[],
): Promise<void> {
  await db
    .delete(sampleChunks)
    .where(and(ofLog(key), channels && inArray(sampleChunks.channel, [...channels])))
}
