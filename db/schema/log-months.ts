import { jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import type { LogMonth } from '@/lib/months/log-month'
import { logKey, ofLog } from './log-key'

/** What a log adds to a month beside its energies: how sure, when it was recorded, its days, its peak. */
export const logMonths = pgTable(
  'log_months',
  {
    ...logKey(),
    /** Local month at the site, `YYYY-MM`. */
    month: text('month').notNull(),
    detail: jsonb('detail').$type<LogMonth>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.logId, table.month] }), ofLog(table)],
)

export type LogMonthRow = typeof logMonths.$inferSelect
