import { and, eq, gte, inArray, max, type SQL, sql, sum } from 'drizzle-orm'
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

const total = (column: Parameters<typeof sum>[0], name: string) => sum(column).mapWith(Number).as(name)

/** Months of machines, earliest first, each the sum of its logs. One row a machine: a driver takes longer over rows than over JSON. */
async function added(db: Database, where: SQL | undefined): Promise<Map<string, MonthDigest[]>> {
  const { machineId, month } = monthDigests
  const sums = db
    .select({
      machineId,
      month,
      runningS: total(monthDigests.runningS, 'running_s'),
      electricJ: total(monthDigests.electricJ, 'electric_j'),
      idleJ: total(monthDigests.idleJ, 'idle_j'),
      wasteJ: total(monthDigests.wasteJ, 'waste_j'),
      cost: total(monthDigests.cost, 'cost'),
      cycles: total(monthDigests.cycles, 'cycles'),
    })
    .from(monthDigests)
    .where(where)
    .groupBy(machineId, month)
    .as('sums')
  const figures = sql`${sums.month}, ${sums.runningS}, ${sums.electricJ}, ${sums.idleJ}, ${sums.wasteJ}, ${sums.cost}, ${sums.cycles}`
  const rows = await db
    .select({
      machineId: sums.machineId,
      months: sql<[string, ...number[]][]>`json_agg(json_build_array(${figures}) order by ${sums.month})`,
    })
    .from(sums)
    .groupBy(sums.machineId)
  return new Map(
    rows.map((row) => [
      row.machineId,
      row.months.map(([name, runningS, electricJ, idleJ, wasteJ, cost, cycles]) => ({
        month: name,
        runningS,
        electricJ,
        idleJ,
        wasteJ,
        cost,
        cycles,
      })),
    ]),
  )
}

/** Every machine's months from one on. */
export function listMachineMonths(
  db: Database,
  siteId: string,
  from: string,
): Promise<Map<string, MonthDigest[]>> {
  return added(db, and(eq(monthDigests.siteId, siteId), gte(monthDigests.month, from)))
}

/** All months of some machines. */
export async function listMonthsOfMachines(
  db: Database,
  machineIds: readonly string[],
): Promise<Map<string, MonthDigest[]>> {
  if (machineIds.length === 0) return new Map()
  return added(db, inArray(monthDigests.machineId, [...machineIds]))
}

/** The latest month that holds anything, or null. */
export async function latestDigestedMonth(db: Database, siteId: string): Promise<string | null> {
  const [row] = await db
    .select({ month: max(monthDigests.month) })
    .from(monthDigests)
    .where(eq(monthDigests.siteId, siteId))
  return row?.month ?? null
}
