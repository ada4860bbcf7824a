import { and, asc, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { type MonthTotalsRow, monthTotals } from '@/db/schema/month-totals'

export type NewMonthTotals = Omit<MonthTotalsRow, 'machineId' | 'logId' | 'siteId'>

/** Stores what a log adds to its months, in place of what was there. */
export async function saveMonthTotals(
  db: Database,
  key: LogKey & { readonly siteId: string },
  totals: readonly NewMonthTotals[],
): Promise<void> {
  await db
    .delete(monthTotals)
    .where(and(eq(monthTotals.machineId, key.machineId), eq(monthTotals.logId, key.logId)))
  if (totals.length > 0) await db.insert(monthTotals).values(totals.map((row) => ({ ...key, ...row })))
}

/** A month's rows of every machine and log. */
export async function listMonthTotals(
  db: Database,
  siteId: string,
  month: string,
): Promise<MonthTotalsRow[]> {
  return db
    .select()
    .from(monthTotals)
    .where(and(eq(monthTotals.siteId, siteId), eq(monthTotals.month, month)))
    .orderBy(asc(monthTotals.machineId), asc(monthTotals.logId), asc(monthTotals.phaseKind))
}

/** What one log adds to its months. */
export async function listLogMonthTotals(db: Database, key: LogKey): Promise<MonthTotalsRow[]> {
  return db
    .select()
    .from(monthTotals)
    .where(and(eq(monthTotals.machineId, key.machineId), eq(monthTotals.logId, key.logId)))
}

/** Months that hold anything, latest first. */
export async function listMonths(db: Database, siteId: string): Promise<string[]> {
  const { month, siteId: site } = monthTotals
  const latestBefore = sql`(select max(${month}) from ${monthTotals} where ${site} = ${siteId} and ${month} < held.month)`
  // From one month to the one before by the index: a look at every row costs more with every log.
  const held = sql`with recursive held(month) as (
    select max(${month}) from ${monthTotals} where ${site} = ${siteId}
    union all select ${latestBefore} from held where held.month is not null
  ) select month from held where month is not null`
  const rows = await db
    .select({ month: sql<string>`month` })
    .from(sql`(${held}) months`)
    .orderBy(sql`month desc`)
  return rows.map((row) => row.month)
}
