import { and, asc, desc, eq, gt, inArray, lt, notInArray, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import {
  type LogError,
  type LogPart,
  type LogReading,
  type LogRow,
  type LogState,
  logs,
} from '@/db/schema/logs'

export interface LogKey {
  readonly machineId: string
  readonly logId: string
}

export interface NewLog {
  readonly id: string
  readonly machineId: string
  readonly siteId: string
  readonly sha256: string
  readonly fileName: string
  readonly byteLength: number
  readonly parts?: LogPart[] | null
  readonly reading?: LogReading | null
  readonly replaces?: string | null
}

const ENDED: LogState[] = ['done', 'failed']
/** What an import can no longer fail in: it has failed, or its log is stored. */
const SETTLED: LogState[] = [...ENDED, 'replaying']

const is = (key: LogKey) => and(eq(logs.machineId, key.machineId), eq(logs.id, key.logId))

/**
 * Enters a file that has arrived. The same recording again gives the first one's row; a failed one of it is
 * taken up again under its old id. `isNew` says whether there is anything to import.
 */
export async function receiveLog(db: Database, log: NewLog): Promise<{ row: LogRow; isNew: boolean }> {
  const received = { state: 'received' as const, progress: 0, error: null, updatedAt: sql`now()` }
  const [made] = await db
    .insert(logs)
    .values({ ...log, state: 'received' })
    .onConflictDoUpdate({
      target: [logs.machineId, logs.sha256],
      set: {
        ...received,
        fileName: log.fileName,
        byteLength: log.byteLength,
        parts: log.parts ?? null,
        reading: log.reading ?? null,
        replaces: log.replaces ?? null,
      },
      setWhere: eq(logs.state, 'failed'),
    })
    .returning()
  if (made) return { row: made, isNew: true }
  const row = await findLogBySha(db, log.machineId, log.sha256)
  if (!row) throw new Error(`log of machine ${log.machineId} vanished while it was received`)
  return { row, isNew: false }
}

export async function findLog(db: Database, id: string): Promise<LogRow | null> {
  const [row] = await db.select().from(logs).where(eq(logs.id, id))
  return row ?? null
}

/** The log a machine has of a file with this content, whatever its state. */
export async function findLogBySha(db: Database, machineId: string, sha256: string): Promise<LogRow | null> {
  const [row] = await db
    .select()
    .from(logs)
    .where(and(eq(logs.machineId, machineId), eq(logs.sha256, sha256)))
  return row ?? null
}

/** A machine's logs, latest recording first; those without a date by when they came. */
export async function listLogs(db: Database, machineId: string): Promise<LogRow[]> {
  return db
    .select()
    .from(logs)
    .where(eq(logs.machineId, machineId))
    .orderBy(sql`${logs.startedAt} desc nulls last`, desc(logs.createdAt))
}

/** A machine's stored logs that share time with [from, to). */
export async function listOverlapping(
  db: Database,
  machineId: string,
  from: Date,
  to: Date,
): Promise<LogRow[]> {
  return db
    .select()
    .from(logs)
    .where(
      and(
        eq(logs.machineId, machineId),
        eq(logs.state, 'done'),
        lt(logs.startedAt, to),
        gt(logs.endedAt, from),
      ),
    )
    .orderBy(asc(logs.startedAt), asc(logs.id))
}

/** The logs of one machine that are stored in full, earliest first. */
export async function listDoneLogs(db: Database, machineId: string): Promise<LogRow[]> {
  return db
    .select()
    .from(logs)
    .where(and(eq(logs.machineId, machineId), eq(logs.state, 'done')))
    .orderBy(asc(logs.startedAt), asc(logs.id))
}

export async function setLogProgress(
  db: Database,
  key: LogKey,
  state: LogState,
  progress: number,
): Promise<void> {
  await db
    .update(logs)
    .set({ state, progress, updatedAt: sql`now()` })
    .where(and(is(key), notInArray(logs.state, SETTLED)))
}

export type LogFacts = Pick<
  LogRow,
  | 'startedAt'
  | 'endedAt'
  | 'durationS'
  | 'sampleIntervalS'
  | 'sampleCount'
  | 'rowsRead'
  | 'rowsUsed'
  | 'rowsRejected'
  | 'channels'
  | 'report'
>

/**
 * Marks a log as stored, in full or but for its options, and gives its row; null where that is gone (the import was
 * undone meanwhile).
 */
export async function finishLog(
  db: Database,
  key: LogKey,
  facts: LogFacts,
  state: 'replaying' | 'done' = 'done',
): Promise<LogRow | null> {
  const progress = state === 'done' ? 1 : 0
  const finished = await db
    .update(logs)
    .set({ ...facts, state, progress, error: null, updatedAt: sql`now()` })
    .where(is(key))
    .returning()
  return finished[0] ?? null
}

/**
 * Marks a log whose options were being replayed as done; false where there is none (the import was undone meanwhile).
 * @param error why it has no options, where it has none
 */
export async function endReplaying(db: Database, key: LogKey, error: LogError | null): Promise<boolean> {
  const ended = await db
    .update(logs)
    .set({ state: 'done', progress: 1, error, updatedAt: sql`now()` })
    .where(and(is(key), eq(logs.state, 'replaying')))
    .returning({ id: logs.id })
  return ended.length > 0
}

export async function failLog(db: Database, key: LogKey, error: LogError): Promise<void> {
  await db
    .update(logs)
    .set({ state: 'failed', error, updatedAt: sql`now()` })
    .where(and(is(key), notInArray(logs.state, SETTLED)))
}

/**
 * Notes with a stored log that it could not be analysed anew: what is stored is of an earlier set-up. It stays
 * `done`; null takes the note away.
 */
export async function noteLogError(db: Database, key: LogKey, error: LogError | null): Promise<void> {
  await db
    .update(logs)
    .set({ error, updatedAt: sql`now()` })
    .where(and(is(key), eq(logs.state, 'done')))
}

/** Says how a stored log's file is to be read from now on; false where it is not stored. */
export async function setLogReading(db: Database, key: LogKey, reading: LogReading | null): Promise<boolean> {
  const changed = await db
    .update(logs)
    .set({ reading, updatedAt: sql`now()` })
    .where(and(is(key), eq(logs.state, 'done')))
    .returning({ id: logs.id })
  return changed.length > 0
}

/** Says that these imports are alive; see failDeadImports. */
export async function touchLogs(db: Database, ids: readonly string[]): Promise<void> {
  if (ids.length === 0) return
  await db
    .update(logs)
    .set({ updatedAt: sql`now()` })
    .where(and(inArray(logs.id, [...ids]), notInArray(logs.state, ENDED)))
}

/** Marks unfinished imports that showed no life since `before` as interrupted; gives back how many. */
export async function failDeadImports(db: Database, before: Date): Promise<number> {
  const dead = await db
    .update(logs)
    .set({ state: 'failed', error: { code: 'interrupted', values: {} }, updatedAt: sql`now()` })
    .where(and(notInArray(logs.state, SETTLED), lt(logs.updatedAt, before)))
    .returning({ id: logs.id })
  return dead.length
}

/**
 * Marks logs whose options nobody replays any more as done: they are stored, and stale until their options are made.
 * @returns the machines that have such logs
 */
export async function endDeadReplays(db: Database, before: Date): Promise<string[]> {
  const dead = await db
    .update(logs)
    .set({ state: 'done', progress: 1, updatedAt: sql`now()` })
    .where(and(eq(logs.state, 'replaying'), lt(logs.updatedAt, before)))
    .returning({ machineId: logs.machineId })
  return [...new Set(dead.map(({ machineId }) => machineId))]
}

/** Deletes a log and all that hangs on it; false where there is none. */
export async function deleteLog(db: Database, key: LogKey): Promise<boolean> {
  const gone = await db.delete(logs).where(is(key)).returning({ id: logs.id })
  return gone.length > 0
}
