import { and, asc, desc, eq, type SQL, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { machines } from '@/db/schema/machines'
import { type MeasureEventRow, measureEvents } from '@/db/schema/measure-events'
import { type MeasureQuoteRow, measureQuotes } from '@/db/schema/measure-quotes'
import { type MeasureRow, measures } from '@/db/schema/measures'
import type { MeasureState } from '@/lib/contract/measure'

export interface MeasureKey {
  readonly machineId: string
  readonly measureId: string
}

export type NewMeasureRow = Omit<MeasureRow, 'createdAt' | 'updatedAt'>
export type NewEventRow = Pick<MeasureEventRow, 'state' | 'on' | 'reason' | 'author' | 'proof'>

/** What lists of measures are narrowed by; left out or null: all. */
export interface MeasureFilter {
  readonly siteId?: string | null
  readonly machineId?: string | null
  readonly state?: MeasureState | null
  readonly owner?: string | null
}

/** A measure with its machine's name and its latest step, proof included. */
export interface ListedMeasure extends MeasureRow {
  readonly machineName: string
  readonly line: string | null
  readonly lastEvent: Pick<MeasureEventRow, 'seq' | 'on' | 'reason' | 'author' | 'proof'>
}

const lastSeq = sql`(select max(e.seq) from measure_events e where e.machine_id = ${measures.machineId} and e.measure_id = ${measures.id})`

const isLastEvent = and(
  eq(measureEvents.machineId, measures.machineId),
  eq(measureEvents.measureId, measures.id),
  eq(measureEvents.seq, lastSeq),
)

/** Measures with their latest step, those touched last first. */
export async function listMeasures(db: Database, filter: MeasureFilter = {}): Promise<ListedMeasure[]> {
  const wanted: SQL[] = []
  if (filter.siteId) wanted.push(eq(measures.siteId, filter.siteId))
  if (filter.machineId) wanted.push(eq(measures.machineId, filter.machineId))
  if (filter.state) wanted.push(eq(measures.state, filter.state))
  if (filter.owner) wanted.push(eq(measures.owner, filter.owner))
  const rows = await db
    .select({ measure: measures, machineName: machines.name, line: machines.line, event: measureEvents })
    .from(measures)
    .innerJoin(machines, eq(machines.id, measures.machineId))
    .innerJoin(measureEvents, isLastEvent)
    .where(and(...wanted))
    .orderBy(desc(measures.updatedAt), asc(measures.id))
  return rows.map(({ measure, machineName, line, event }) => {
    const { seq, on, reason, author, proof } = event
    return { ...measure, machineName, line, lastEvent: { seq, on, reason, author, proof } }
  })
}

/** What a list of all measures says of each. */
export type MeasureHead = Pick<
  MeasureRow,
  'id' | 'machineId' | 'optionId' | 'title' | 'state' | 'owner' | 'expected'
> &
  Pick<ListedMeasure, 'machineName'> &
  Pick<MeasureEventRow, 'on' | 'reason' | 'proof'>

/** The measures of a site in few words, those touched last first; a measure's set-up is a hundred times as long. */
export async function listMeasureHeads(db: Database, siteId: string): Promise<MeasureHead[]> {
  const { id, machineId, optionId, title, state, owner, expected } = measures
  const { on, reason, proof } = measureEvents
  return db
    .select({
      id,
      machineId,
      optionId,
      title,
      state,
      owner,
      expected,
      machineName: machines.name,
      on,
      reason,
      proof,
    })
    .from(measures)
    .innerJoin(machines, eq(machines.id, machineId))
    .innerJoin(measureEvents, isLastEvent)
    .where(eq(measures.siteId, siteId))
    .orderBy(desc(measures.updatedAt), asc(id))
}

const is = ({ machineId, measureId }: MeasureKey) =>
  and(eq(measures.machineId, machineId), eq(measures.id, measureId))

export async function findMeasure(db: Database, id: string): Promise<MeasureRow | null> {
  const [row] = await db.select().from(measures).where(eq(measures.id, id))
  return row ?? null
}

/** A measure's steps, first to last. */
export async function listMeasureEvents(db: Database, key: MeasureKey): Promise<MeasureEventRow[]> {
  return db
    .select()
    .from(measureEvents)
    .where(and(eq(measureEvents.machineId, key.machineId), eq(measureEvents.measureId, key.measureId)))
    .orderBy(asc(measureEvents.seq))
}

/** Stores a new measure with its first step, both or neither. */
export async function insertMeasure(
  db: Database,
  measure: NewMeasureRow,
  first: Omit<NewEventRow, 'state' | 'proof'>,
): Promise<void> {
  const { machineId, id: measureId, siteId, state } = measure
  await db.transaction(async (tx) => {
    await tx.insert(measures).values(measure)
    await tx.insert(measureEvents).values({ machineId, measureId, siteId, seq: 1, state, ...first })
  })
}

/**
 * Adds a step behind the one that the caller has seen; false where another came between, and nothing is stored.
 * @param after number of the latest step as the caller knows it
 */
export async function addMeasureEvent(
  db: Database,
  key: MeasureKey & { readonly siteId: string },
  after: number,
  event: NewEventRow,
): Promise<boolean> {
  const { machineId, measureId, siteId } = key
  return db.transaction(async (tx) => {
    const made = await tx
      .insert(measureEvents)
      .values({ machineId, measureId, siteId, seq: after + 1, ...event })
      .onConflictDoNothing()
      .returning({ seq: measureEvents.seq })
    if (made.length === 0) return false
    await tx.update(measures).set({ state: event.state, updatedAt: sql`now()` }).where(is(key))
    return true
  })
}

export type MeasureChange = Partial<Pick<MeasureRow, 'owner' | 'notes' | 'setup'>>

/** Writes what may be written anew; false where there is no such measure. */
export async function updateMeasure(db: Database, key: MeasureKey, change: MeasureChange): Promise<boolean> {
  const changed = await db
    .update(measures)
    .set({ ...change, updatedAt: sql`now()` })
    .where(is(key))
    .returning({ id: measures.id })
  return changed.length > 0
}

/** A measure's quotes, first to last. */
export async function listMeasureQuotes(db: Database, key: MeasureKey): Promise<MeasureQuoteRow[]> {
  return db
    .select()
    .from(measureQuotes)
    .where(and(eq(measureQuotes.machineId, key.machineId), eq(measureQuotes.measureId, key.measureId)))
    .orderBy(asc(measureQuotes.on), asc(measureQuotes.createdAt))
}

export async function insertMeasureQuote(
  db: Database,
  quote: Omit<MeasureQuoteRow, 'createdAt'>,
): Promise<MeasureQuoteRow> {
  const [made] = await db.insert(measureQuotes).values(quote).returning()
  return made
}
