import { doublePrecision, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { updatedAt } from '@/db/columns'
import { logKey, ofLog } from './log-key'

/** Pieces made while a log ran, as a person counted them. */
export const logProduction = pgTable(
  'log_production',
  {
    ...logKey(),
    pieces: doublePrecision('pieces').notNull(),
    note: text('note'),
    author: text('author'),
    updatedAt: updatedAt(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.logId] }), ofLog(table)],
)
