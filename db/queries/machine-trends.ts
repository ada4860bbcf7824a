import { and, desc, eq, gte, isNotNull, max, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { machineMonths } from '@/db/schema/machine-months'
import { machines } from '@/db/schema/machines'
import type { MonthDigest } from '@/lib/months/month-digest'

const { siteId: site, machineId, month, runningS, electricJ, idleJ, wasteJ, cost, cycles } = machineMonths

/** The latest month that holds anything, or null. */
export async function latestDigestedMonth(db: Database, siteId: string): Promise<string | null> {
  const [row] = await db
    .select({ month: max(month) })
    .from(machineMonths)
    .where(and(eq(site, siteId), isNotNull(electricJ)))
  return row?.month ?? null
}

/** The latest month of each machine that has any. */
export async function listLatestMonths(db: Database, siteId: string): Promise<Map<string, MonthDigest>> {
  const latest = db
    .select({ machineId, month, runningS, electricJ, idleJ, wasteJ, cost, cycles })
    .from(machineMonths)
    .where(and(eq(machineId, machines.id), isNotNull(electricJ)))
    .orderBy(desc(month))
    .limit(1)
    .as('latest')
  const figures = sql`${latest.machineId}, ${latest.month}, ${latest.runningS}, ${latest.electricJ}, ${latest.idleJ}, ${latest.wasteJ}, ${latest.cost}, ${latest.cycles}`
  // One value: a driver takes longer over rows than over JSON.
  const [{ rows }] = await db
    .select({
      rows: sql<[string, string, ...number[]][]>`coalesce(json_agg(json_build_array(${figures})), '[]')`,
    })
    .from(machines)
    .innerJoinLateral(latest, sql`true`)
    .where(eq(machines.siteId, siteId))
  return new Map(
    rows.map(([id, name, running, electric, idle, waste, money, strokes]) => [
      id,
      {
        month: name,
        runningS: running,
        electricJ: electric,
        idleJ: idle,
        wasteJ: waste,
        cost: money,
        cycles: strokes,
      },
    ]),
  )
}

/** Waste share of the input by machine in the months from one on, by month; null where nothing ran. */
export async function listWasteShares(
  db: Database,
  siteId: string,
  from: string,
): Promise<{ month: string; shares: [string, number | null][] }[]> {
  const share = sql`case when ${electricJ} > 0 then ${wasteJ} / ${electricJ} end`
  return db
    .select({
      month,
      shares: sql<[string, number | null][]>`json_agg(json_build_array(${machineId}, ${share}))`,
    })
    .from(machineMonths)
    .where(and(eq(site, siteId), gte(month, from), isNotNull(electricJ)))
    .groupBy(month)
}
