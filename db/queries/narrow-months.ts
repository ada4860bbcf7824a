import { and, eq, inArray, type SQL, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { machineMonths } from '@/db/schema/machine-months'
import type { MonthSummary } from '@/lib/months/summary'
import type { MachineMonthKey } from './machine-months'

/** What pages read of a machine's month, as it is stored. */
export interface PackedMonth {
  readonly kindTable: Uint8Array
  readonly narrowRest: Uint8Array
  readonly narrowLayout: number
}

/** Machines of a month, and what is packed of each, one behind the other in their order. */
export interface PackedMonths {
  readonly month: string
  readonly machineIds: readonly string[]
  readonly kindTables: Uint8Array
  readonly narrowRests: Uint8Array
  /** Machines of the month that are packed otherwise, or not yet. */
  readonly unpacked: number
}

const {
  month,
  siteId: site,
  machineId,
  kindTable,
  narrowRest,
  narrowLayout,
  summary,
  updatedAt,
} = machineMonths

/** Bytes of many rows as one value: a driver takes longer over a row than over all bytes in it, and over hex than over this. */
const together = (column: typeof kindTable | typeof narrowRest, isOfLayout: SQL) =>
  sql<string>`coalesce(encode(string_agg(${column}, ''::bytea) filter (where ${isOfLayout}), 'base64'), '')`

const bytesOf = (base64: string) => new Uint8Array(Buffer.from(base64, 'base64'))

/**
 * A mark of each of some months of a site, another one after any row of the month was written or taken away: who keeps what
 * was read of a month knows by it whether it still holds. Of a month without rows none comes.
 */
export async function listMonthMarks(
  db: Database,
  siteId: string,
  months: readonly string[],
): Promise<Map<string, string>> {
  const writtenUs = sql`(date_part('epoch', ${updatedAt}) * 1e6)::bigint`
  const mark = sql<string>`count(*) || ' ' || bit_xor(hashtextextended(${machineId}, ${writtenUs}))`
  const rows = await db
    .select({ month, mark })
    .from(machineMonths)
    .where(and(eq(site, siteId), inArray(month, [...months])))
    .groupBy(month)
  return new Map(rows.map((row) => [row.month, row.mark]))
}

/** Some months of a site, a row each. All that is put together of a month is so in one order, that in which rows come. */
export async function listPackedMonths(
  db: Database,
  siteId: string,
  months: readonly string[],
  layout: number,
): Promise<PackedMonths[]> {
  if (months.length === 0) return []
  const isOfLayout = sql`${narrowLayout} = ${layout}`
  const rows = await db
    .select({
      month,
      machineIds: sql<string[]>`coalesce(json_agg(${machineId}) filter (where ${isOfLayout}), '[]')`,
      kindTables: together(kindTable, isOfLayout),
      narrowRests: together(narrowRest, isOfLayout),
      unpacked: sql<number>`(count(*) filter (where ${narrowLayout} is distinct from ${layout}))::integer`,
    })
    .from(machineMonths)
    .where(and(eq(site, siteId), inArray(month, [...months])))
    .groupBy(month)
  return rows.map((row) => ({
    ...row,
    kindTables: bytesOf(row.kindTables),
    narrowRests: bytesOf(row.narrowRests),
  }))
}

export interface UnpackedMonth extends MachineMonthKey {
  readonly summary: MonthSummary
}

const rowsToPack = (db: Database) =>
  db.select({ machineId, siteId: site, month, summary }).from(machineMonths)

/** Of some months of a site those that are packed otherwise or not yet. */
export function listUnpackedMonths(
  db: Database,
  siteId: string,
  months: readonly string[],
  layout: number,
): Promise<UnpackedMonth[]> {
  const isOther = sql`${narrowLayout} is distinct from ${layout}`
  return rowsToPack(db).where(and(isOther, eq(site, siteId), inArray(month, [...months])))
}

/** The first of all such months, which stay as they are to the end of the transaction. */
export function lockUnpackedMonths(tx: Database, layout: number, most: number): Promise<UnpackedMonth[]> {
  return rowsToPack(tx).where(sql`${narrowLayout} is distinct from ${layout}`).limit(most).for('update')
}

/** Stores what pages read of a month beside its summary. */
export async function savePackedMonth(
  db: Database,
  key: MachineMonthKey,
  packed: PackedMonth,
): Promise<void> {
  await db
    .update(machineMonths)
    .set({ ...packed, updatedAt: sql`now()` })
    .where(and(eq(machineId, key.machineId), eq(month, key.month)))
}
