import { and, eq, max } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type MonthTotalsRow, monthTotals } from '@/db/schema/month-totals'

/** Rows of each machine's latest month that holds anything. */
export async function listLatestMonthTotals(db: Database, siteId: string): Promise<MonthTotalsRow[]> {
  const latest = db
    .select({ machineId: monthTotals.machineId, month: max(monthTotals.month).as('latest_month') })
    .from(monthTotals)
    .where(eq(monthTotals.siteId, siteId))
    .groupBy(monthTotals.machineId)
    .as('latest')
  const rows = await db
    .select({ totals: monthTotals })
    .from(monthTotals)
    .innerJoin(latest, and(eq(monthTotals.machineId, latest.machineId), eq(monthTotals.month, latest.month)))
  return rows.map((row) => row.totals)
}
