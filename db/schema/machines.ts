import { index, jsonb, pgTable, text } from 'drizzle-orm/pg-core'
import { createdAt, updatedAt } from '@/db/columns'
import type { Machine } from '@/lib/contract/machine'
import { sites } from './sites'

/** A hydraulic power unit with the machine it drives; `config` is MACHINE.json as validated. */
export const machines = pgTable(
  'machines',
  {
    id: text('id').primaryKey(),
    siteId: text('site_id')
      .notNull()
      .references(() => sites.id),
    name: text('name').notNull(),
    line: text('line'),
    trade: text('trade'),
    config: jsonb('config').$type<Machine>().notNull(),
    createdAt: createdAt(),
    updatedAt: updatedAt(),
  },
  (table) => [index('machines_by_site').on(table.siteId)],
)

export type MachineRow = typeof machines.$inferSelect
