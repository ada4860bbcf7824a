import { doublePrecision, index, integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { bytea, updatedAt } from '@/db/columns'
import type { MonthSummary } from '@/lib/months/summary'
import { machines } from './machines'

/** A machine's month in few numbers, written where a log of it is stored or removed: what pages read. */
export const machineMonths = pgTable(
  'machine_months',
  {
    machineId: text('machine_id')
      .notNull()
      .references(() => machines.id, { onDelete: 'cascade' }),
    siteId: text('site_id').notNull(),
    /** Local month at the site, `YYYY-MM`. */
    month: text('month').notNull(),
    summary: jsonb('summary').$type<MonthSummary>().notNull(),
    /** Its logs put together in the numerators that comparisons are made of; null where none of them has a digest. */
    runningS: doublePrecision('running_s'),
    electricJ: doublePrecision('electric_j'),
    idleJ: doublePrecision('idle_j'),
    wasteJ: doublePrecision('waste_j'),
    cost: doublePrecision('cost'),
    cycles: doublePrecision('cycles'),
    /** Of the summary what pages read, packed: by kind of phase, and the rest. Null until it is packed. */
    kindTable: bytea('kind_table'),
    narrowRest: bytea('narrow_rest'),
    /** How it is packed; of another layout than today's it is packed anew from the summary. */
    narrowLayout: integer('narrow_layout'),
    updatedAt: updatedAt(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.month] }),
    // With when each was written: whether a month still is as it was read is told without its rows.
    index('machine_months_by_month').on(table.siteId, table.month, table.machineId, table.updatedAt),
    // All that trends are drawn from: years of a fleet are read without its rows.
    index('machine_months_trend').on(
      table.siteId,
      table.month,
      table.machineId,
      table.electricJ,
      table.wasteJ,
    ),
  ],
)

export type MachineMonthRow = Pick<
  typeof machineMonths.$inferSelect,
  'machineId' | 'siteId' | 'month' | 'summary'
>
