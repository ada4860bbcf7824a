import { doublePrecision, integer, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt } from '@/db/columns'
import { logKey, ofLog } from './log-key'

/** Moments in logs at which a person changed a setting by hand, to see at once what it does. */
export const trials = pgTable(
  'trials',
  {
    ...logKey(),
    id: text('id').notNull(),
    /** Elapsed seconds from the log's first sample. */
    atS: doublePrecision('at_s').notNull(),
    /** Cycles compared on either side. */
    cycles: integer('cycles').notNull(),
    /** The measure it speaks for; null where none is decided. Not a key: a trial outlives it. */
    measureId: text('measure_id'),
    note: text('note'),
    author: text('author'),
    createdAt: createdAt(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.logId, table.id] }), ofLog(table)],
)

export type TrialRow = typeof trials.$inferSelect
