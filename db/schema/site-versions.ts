import { boolean, integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { instant } from '@/db/columns'
import type { Site } from '@/lib/contract/site'
import { sites } from './sites'

/** Every state of a site's settings, with who set it and why: nothing of it is ever changed. */
export const siteVersions = pgTable(
  'site_versions',
  {
    siteId: text('site_id')
      .notNull()
      .references(() => sites.id, { onDelete: 'cascade' }),
    /** From 1. */
    number: integer('number').notNull(),
    settings: jsonb('settings').$type<Site>().notNull(),
    /** Null where nobody said. */
    author: text('author'),
    reason: text('reason'),
    /** Whether days before `at` cost otherwise with it. */
    correctsPast: boolean('corrects_past').notNull(),
    at: instant('at').notNull(),
  },
  (table) => [primaryKey({ columns: [table.siteId, table.number] })],
)

export type SiteVersionRow = typeof siteVersions.$inferSelect
