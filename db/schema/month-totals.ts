import { doublePrecision, index, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import type { PhaseKind } from '@/lib/contract/result'
import { logKey, ofLog } from './log-key'

/** What a log adds to a month, by kind of phase: numerators only, so that any sum of rows is right. */
export const monthTotals = pgTable(
  'month_totals',
  {
    ...logKey(),
    /** Local month at the site, `YYYY-MM`. */
    month: text('month').notNull(),
    phaseKind: text('phase_kind').$type<PhaseKind>().notNull(),
    seconds: doublePrecision('seconds').notNull(),
    electricJ: doublePrecision('electric_j').notNull(),
    motorLossJ: doublePrecision('motor_loss_j').notNull(),
    pumpLossJ: doublePrecision('pump_loss_j').notNull(),
    overReliefJ: doublePrecision('over_relief_j').notNull(),
    unloadingJ: doublePrecision('unloading_j').notNull(),
    intoSystemJ: doublePrecision('into_system_j').notNull(),
    meteringJ: doublePrecision('metering_j'),
    workJ: doublePrecision('work_j'),
    unaccountedJ: doublePrecision('unaccounted_j').notNull(),
    /** Energy cost of the electric input in the site's currency. */
    cost: doublePrecision('cost').notNull(),
    /** The log's cycles spread over its rows by running time: whole only in the sum over a log's rows. */
    cycles: doublePrecision('cycles').notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.logId, table.month, table.phaseKind] }),
    index('month_totals_by_month').on(table.siteId, table.month, table.machineId, table.logId),
    ofLog(table),
  ],
)

export type MonthTotalsRow = typeof monthTotals.$inferSelect
