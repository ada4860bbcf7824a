import { and, asc, eq, inArray, isNull, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { logMonths } from '@/db/schema/log-months'
import { type MachineMonthRow, machineMonths } from '@/db/schema/machine-months'
import { type MonthTotalsRow, monthTotals } from '@/db/schema/month-totals'
import type { LogMonth } from '@/lib/months/log-month'
import type { MonthSummary } from '@/lib/months/summary'
import type { SummedDigest } from './month-digests'
import type { PackedMonth } from './narrow-months'

/** Keeps others from summing up a machine's months until the transaction ends, in whatever process they run. */
export async function lockMachineMonths(db: Database, machineId: string): Promise<void> {
  await db.execute(sql`select pg_advisory_xact_lock(hashtextextended(${machineId}, 0))`)
}

/** Stores what a log adds to its months beside its energies, in place of what was there. */
export async function saveLogMonths(
  db: Database,
  key: LogKey & { readonly siteId: string },
  details: readonly LogMonth[],
): Promise<void> {
  await db
    .delete(logMonths)
    .where(and(eq(logMonths.machineId, key.machineId), eq(logMonths.logId, key.logId)))
  if (details.length > 0)
    await db.insert(logMonths).values(details.map((detail) => ({ ...key, month: detail.month, detail })))
}

/** The months that a log adds to. */
export async function listMonthsOfLog(db: Database, key: LogKey): Promise<string[]> {
  const rows = await db
    .selectDistinct({ month: monthTotals.month })
    .from(monthTotals)
    .where(and(eq(monthTotals.machineId, key.machineId), eq(monthTotals.logId, key.logId)))
  return rows.map(({ month }) => month)
}

/** A machine's rows of a month, log by log. */
export async function listMachineTotals(
  db: Database,
  machineId: string,
  month: string,
): Promise<MonthTotalsRow[]> {
  return db
    .select()
    .from(monthTotals)
    .where(and(eq(monthTotals.machineId, machineId), eq(monthTotals.month, month)))
    .orderBy(asc(monthTotals.logId), asc(monthTotals.phaseKind))
}

export async function listLogMonths(db: Database, machineId: string, month: string): Promise<LogMonth[]> {
  const rows = await db
    .select({ detail: logMonths.detail })
    .from(logMonths)
    .where(and(eq(logMonths.machineId, machineId), eq(logMonths.month, month)))
    .orderBy(asc(logMonths.logId))
  return rows.map(({ detail }) => detail)
}

export interface MachineMonthKey {
  readonly machineId: string
  readonly siteId: string
  readonly month: string
}

/** Stores a machine's month with what pages read of it; null takes it away. */
export async function saveMachineMonth(
  db: Database,
  key: MachineMonthKey,
  made: {
    readonly summary: MonthSummary
    readonly packed: PackedMonth
    readonly digest: SummedDigest
  } | null,
): Promise<void> {
  if (!made) {
    await db
      .delete(machineMonths)
      .where(and(eq(machineMonths.machineId, key.machineId), eq(machineMonths.month, key.month)))
    return
  }
  const row = { summary: made.summary, ...made.packed, ...made.digest }
  await db
    .insert(machineMonths)
    .values({ ...key, ...row })
    .onConflictDoUpdate({
      target: [machineMonths.machineId, machineMonths.month],
      set: { ...row, updatedAt: sql`now()` },
    })
}

/** The summaries of some months of a site, machine by machine. */
export async function listMachineMonths(
  db: Database,
  siteId: string,
  months: readonly string[],
): Promise<MachineMonthRow[]> {
  const { machineId, siteId: site, month, summary } = machineMonths
  return db
    .select({ machineId, siteId: site, month, summary })
    .from(machineMonths)
    .where(and(eq(machineMonths.siteId, siteId), inArray(machineMonths.month, [...months])))
    .orderBy(asc(machineMonths.machineId), asc(machineMonths.month))
}

/** Months of machines that hold logs and have no summary: stored before there were any. */
export async function listUnsummarised(
  db: Database,
): Promise<{ machineId: string; siteId: string; month: string }[]> {
  const { machineId, siteId, month } = monthTotals
  return db
    .selectDistinct({ machineId, siteId, month })
    .from(monthTotals)
    .leftJoin(machineMonths, and(eq(machineMonths.machineId, machineId), eq(machineMonths.month, month)))
    .where(isNull(machineMonths.machineId))
}
