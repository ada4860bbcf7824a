import { and, eq, gte, inArray, max, type SQL, sum } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { monthDigests } from '@/db/schema/month-digests'
import type { MonthDigest } from '@/lib/months/month-digest'

/** Stores what a log adds to its months, in place of what was there. */
export async function saveMonthDigests(
  db: Database,
  key: LogKey & { readonly siteId: string },
  digests: readonly MonthDigest[],
): Promise<void> {
  await db
    .delete(monthDigests)
    .where(and(eq(monthDigests.machineId, key.machineId), eq(monthDigests.logId, key.logId)))
  if (digests.length > 0) await db.insert(monthDigests).values(digests.map((one) => ({ ...key, ...one })))
}

/** A machine's month: its logs added up. */
export interface MachineMonthDigest extends MonthDigest {
  readonly machineId: string
}

const total = (column: Parameters<typeof sum>[0]) => sum(column).mapWith(Number)

async function added(db: Database, where: SQL | undefined): Promise<MachineMonthDigest[]> {
  const { machineId, month, runningS, electricJ, idleJ, wasteJ, cost, cycles } = monthDigests
  return db
    .select({
      machineId,
      month,
      runningS: total(runningS),
      electricJ: total(electricJ),
      idleJ: total(idleJ),
      wasteJ: total(wasteJ),
      cost: total(cost),
      cycles: total(cycles),
    })
    .from(monthDigests)
    .where(where)
    .groupBy(machineId, month)
    .orderBy(machineId, month)
}

/** Every machine's months from one on, earliest first. */
export function listMachineMonths(db: Database, siteId: string, from: string): Promise<MachineMonthDigest[]> {
  return added(db, and(eq(monthDigests.siteId, siteId), gte(monthDigests.month, from)))
}

/** All months of some machines, earliest first. */
export function listMonthsOfMachines(
  db: Database,
  machineIds: readonly string[],
): Promise<MachineMonthDigest[]> {
  return machineIds.length === 0
    ? Promise.resolve([])
    : added(db, inArray(monthDigests.machineId, [...machineIds]))
}

/** The latest month that holds anything, or null. */
export async function latestDigestedMonth(db: Database, siteId: string): Promise<string | null> {
  const [row] = await db
    .select({ month: max(monthDigests.month) })
    .from(monthDigests)
    .where(eq(monthDigests.siteId, siteId))
  return row?.month ?? null
}
