import { doublePrecision, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt, instant } from '@/db/columns'
import type { PhaseKind } from '@/lib/contract/result'
import { logKey, ofLog } from './log-key'

/** What people and scripts say of stretches of a log; a row is deleted when its correction is taken back. */
export const corrections = pgTable(
  'corrections',
  {
    ...logKey(),
    id: text('id').notNull(),
    /** Elapsed seconds from the log's first sample: these are what counts. */
    startS: doublePrecision('start_s').notNull(),
    endS: doublePrecision('end_s').notNull(),
    /** The same on the clock when it was said; null where the log has no date. */
    startAt: instant('start_at'),
    endAt: instant('end_at'),
    kind: text('kind').$type<PhaseKind>().notNull(),
    author: text('author'),
    reason: text('reason'),
    createdAt: createdAt(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.logId, table.id] }), ofLog(table)],
)

export type CorrectionRow = typeof corrections.$inferSelect
