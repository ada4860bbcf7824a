import { integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt } from '@/db/columns'
import type { MeasureState } from '@/lib/contract/measure'
import type { Proof } from '@/lib/contract/proof'
import { measureKey, ofMeasure } from './measures'

/** Steps of measures; rows are only ever added. */
export const measureEvents = pgTable(
  'measure_events',
  {
    ...measureKey(),
    /** 1 for the first step of a measure, and so on. */
    seq: integer('seq').notNull(),
    state: text('state').$type<MeasureState>().notNull(),
    /** Day at the site on which it happened, `YYYY-MM-DD`. */
    on: text('on_day').notNull(),
    reason: text('reason'),
    author: text('author'),
    /** What was proven, frozen with the step `verified`. */
    proof: jsonb('proof').$type<Proof>(),
    createdAt: createdAt(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.measureId, table.seq] }), ofMeasure(table)],
)

export type MeasureEventRow = typeof measureEvents.$inferSelect
