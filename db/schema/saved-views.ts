import { pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt, updatedAt } from '@/db/columns'
import { sites } from './sites'

/** Pages whose state lives in the address, so that a view of them is an address with a name. */
export const VIEW_PAGES = ['machines', 'funding'] as const
export type ViewPage = (typeof VIEW_PAGES)[number]

/** An address with a name, for everybody of the site. */
export const savedViews = pgTable(
  'saved_views',
  {
    siteId: text('site_id')
      .notNull()
      .references(() => sites.id, { onDelete: 'cascade' }),
    id: text('id').notNull(),
    page: text('page').$type<ViewPage>().notNull(),
    name: text('name').notNull(),
    /** What stands behind the question mark. */
    query: text('query').notNull(),
    createdAt: createdAt(),
    updatedAt: updatedAt(),
  },
  (table) => [primaryKey({ columns: [table.siteId, table.id] })],
)

export type SavedViewRow = typeof savedViews.$inferSelect
