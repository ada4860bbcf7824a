import { desc, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type MonthBaselineRow, monthBaselines } from '@/db/schema/month-baselines'

/** The mark that counts of each machine of a site; those whose mark was taken away are left out. */
export async function listBaselines(db: Database, siteId: string): Promise<MonthBaselineRow[]> {
  const rows = await db
    .selectDistinctOn([monthBaselines.machineId])
    .from(monthBaselines)
    .where(eq(monthBaselines.siteId, siteId))
    .orderBy(monthBaselines.machineId, desc(monthBaselines.number))
  return rows.filter(({ fromMonth }) => fromMonth !== null)
}

export interface BaselineSpan {
  readonly fromMonth: string
  readonly untilMonth: string
  readonly machineIds: readonly string[]
}

/** The same by span: many machines of a site share one. */
export async function listBaselineSpans(db: Database, siteId: string): Promise<BaselineSpan[]> {
  const { machineId, fromMonth, untilMonth, number } = monthBaselines
  const last = db
    .selectDistinctOn([machineId], { machineId, fromMonth, untilMonth })
    .from(monthBaselines)
    .where(eq(monthBaselines.siteId, siteId))
    .orderBy(machineId, desc(number))
    .as('last')
  const rows = await db
    .select({
      fromMonth: last.fromMonth,
      untilMonth: last.untilMonth,
      machineIds: sql<string[]>`json_agg(${last.machineId})`,
    })
    .from(last)
    .groupBy(last.fromMonth, last.untilMonth)
  // A mark without months was taken away.
  return rows.flatMap(({ fromMonth: from, untilMonth: until, machineIds }) =>
    from && until ? [{ fromMonth: from, untilMonth: until, machineIds }] : [],
  )
}

/** Marks a machine's baseline, or takes the mark away; earlier marks are kept. */
export async function addBaseline(db: Database, baseline: Omit<MonthBaselineRow, 'number'>): Promise<void> {
  const next = sql<number>`(select coalesce(max(number), 0) + 1 from month_baselines where machine_id = ${baseline.machineId})`
  await db.insert(monthBaselines).values({ ...baseline, number: next })
}
