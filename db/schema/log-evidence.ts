import { jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt } from '@/db/columns'
import type { SensorEvidence } from '@/lib/contract/machine'
import { logKey, ofLog } from './log-key'

/** Evidence of a sensor that was handed in after its log was imported: rows are only added, the import report stays. */
export const logEvidence = pgTable(
  'log_evidence',
  {
    ...logKey(),
    id: text('id').notNull(),
    /** The log's column, as its import report names it. */
    column: text('column_name').notNull(),
    evidence: jsonb('evidence').$type<SensorEvidence>().notNull(),
    author: text('author').notNull(),
    createdAt: createdAt(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.logId, table.id] }), ofLog(table)],
)

export type LogEvidenceRow = typeof logEvidence.$inferSelect
