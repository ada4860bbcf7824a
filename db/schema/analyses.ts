import { sql } from 'drizzle-orm'
import { integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { instant } from '@/db/columns'
import type { Analysis } from '@/lib/contract/result'
import type { Grounds } from '@/lib/explain/grounds'
import type { LogEvidence } from '@/lib/proof/evidence'
import { logKey, ofLog } from './log-key'

/** What was computed of a log: codes and values; sentences are added where it is read. */
export const analyses = pgTable(
  'analyses',
  {
    ...logKey(),
    engineVersion: integer('engine_version').notNull(),
    /** Fingerprints of the set-up it was read and computed with: where they differ from today's, it is stale. */
    readingInputs: text('reading_inputs').notNull(),
    computingInputs: text('computing_inputs').notNull(),
    analysis: jsonb('analysis').$type<Analysis>().notNull(),
    /** What its figures rest on, for their explanations; null where an earlier engine computed it. */
    grounds: jsonb('grounds').$type<Grounds>(),
    /** What it says for proofs of savings; null where an earlier engine computed it. */
    evidence: jsonb('evidence').$type<LogEvidence>(),
    computedAt: instant('computed_at').notNull().default(sql`now()`),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.logId] }), ofLog(table)],
)

export type AnalysisRow = typeof analyses.$inferSelect
