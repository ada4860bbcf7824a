import { jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt, instant } from '@/db/columns'
import type { Layout } from '@/lib/contract/layout'
import type { Reading } from '@/lib/contract/reading'
import { machines } from './machines'

/** How a person says files of one layout are to be read for a machine; a row is deleted when it is forgotten. */
export const layouts = pgTable(
  'layouts',
  {
    machineId: text('machine_id')
      .notNull()
      .references(() => machines.id, { onDelete: 'cascade' }),
    id: text('id').notNull(),
    siteId: text('site_id').notNull(),
    layout: jsonb('layout').$type<Layout>().notNull(),
    reading: jsonb('reading').$type<Reading>().notNull(),
    author: text('author'),
    /** The file it was said of. */
    fileName: text('file_name'),
    createdAt: createdAt(),
    usedAt: instant('used_at'),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.id] })],
)

export type LayoutRow = typeof layouts.$inferSelect
