import { foreignKey, index, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt, updatedAt } from '@/db/columns'
import type { Machine } from '@/lib/contract/machine'
import type { Expected, MeasureState } from '@/lib/contract/measure'
import type { ProofSetup } from '@/lib/contract/proof'
import type { OptionId } from '@/lib/contract/result'
import { machines } from './machines'

type Key = Parameters<typeof foreignKey>[0]['columns'][number]

/** What is decided to be done to a machine; its steps, quotes and proofs hang on its key. */
export const measures = pgTable(
  'measures',
  {
    machineId: text('machine_id')
      .notNull()
      .references(() => machines.id, { onDelete: 'cascade' }),
    id: text('id').notNull(),
    siteId: text('site_id').notNull(),
    /** Null for a measure of a person's own, which has a title. */
    optionId: text('option_id').$type<OptionId>(),
    title: text('title'),
    /** State of its latest step. */
    state: text('state').$type<MeasureState>().notNull(),
    owner: text('owner'),
    notes: text('notes'),
    /** Frozen at decision; null where nothing was promised. */
    expected: jsonb('expected').$type<Expected>(),
    /** The machine's set-up at decision, so that a later change of it is seen. */
    machineThen: jsonb('machine_then').$type<Machine>().notNull(),
    setup: jsonb('setup').$type<ProofSetup>().notNull(),
    createdAt: createdAt(),
    updatedAt: updatedAt(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.id] }),
    index('measures_by_id').on(table.id),
    index('measures_by_site').on(table.siteId, table.state),
  ],
)

export type MeasureRow = typeof measures.$inferSelect

/** The columns every table below a measure begins with. */
export const measureKey = () => ({
  machineId: text('machine_id').notNull(),
  measureId: text('measure_id').notNull(),
  siteId: text('site_id').notNull(),
})

/** Ties the rows to their measure: deleting it deletes them. */
export const ofMeasure = (table: { machineId: Key; measureId: Key }) =>
  foreignKey({
    columns: [table.machineId, table.measureId],
    foreignColumns: [measures.machineId, measures.id],
  }).onDelete('cascade')
