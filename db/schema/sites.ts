import { jsonb, pgTable, text } from 'drizzle-orm/pg-core'
import { createdAt, updatedAt } from '@/db/columns'
import type { Site } from '@/lib/contract/site'

/** A works with its price, calendar, currency and time zone. */
export const sites = pgTable('sites', {
  id: text('id').primaryKey(),
  settings: jsonb('settings').$type<Site>().notNull(),
  createdAt: createdAt(),
  updatedAt: updatedAt(),
})

export type SiteRow = typeof sites.$inferSelect
