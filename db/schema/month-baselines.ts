import { index, integer, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { instant } from '@/db/columns'
import { machines } from './machines'

/** Which months a machine's later ones are held against, as marked by a person; the last mark counts. */
export const monthBaselines = pgTable(
  'month_baselines',
  {
    machineId: text('machine_id')
      .notNull()
      .references(() => machines.id, { onDelete: 'cascade' }),
    siteId: text('site_id').notNull(),
    /** From 1. */
    number: integer('number').notNull(),
    /** First and last month `YYYY-MM`; null where the mark was taken away. */
    fromMonth: text('from_month'),
    untilMonth: text('until_month'),
    author: text('author').notNull(),
    note: text('note'),
    at: instant('at').notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.number] }),
    index('month_baselines_by_site').on(table.siteId),
  ],
)

export type MonthBaselineRow = typeof monthBaselines.$inferSelect
