import { boolean, doublePrecision, index, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import type { MonthDigest } from '@/lib/months/month-digest'
import { logKey, ofLog } from './log-key'

/** What a log adds to a month in one row, for pages that show many machines over many months: numerators only. */
export const monthDigests = pgTable(
  'month_digests',
  {
    ...logKey(),
    month: text('month').notNull(),
    runningS: doublePrecision('running_s').notNull(),
    electricJ: doublePrecision('electric_j').notNull(),
    idleJ: doublePrecision('idle_j').notNull(),
    wasteJ: doublePrecision('waste_j').notNull(),
    cost: doublePrecision('cost').notNull(),
    cycles: doublePrecision('cycles').notNull(),
    /** Whether the log's analysis has nothing to look at, as its digest says; null where it has none. Months count their logs by it. */
    isSound: boolean('is_sound'),
  } satisfies Record<keyof MonthDigest | 'machineId' | 'logId' | 'siteId' | 'isSound', unknown>,
  (table) => [
    primaryKey({ columns: [table.machineId, table.logId, table.month] }),
    index('month_digests_by_month').on(table.siteId, table.month, table.machineId, table.isSound),
    ofLog(table),
  ],
)
