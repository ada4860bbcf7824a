import { integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { instant } from '@/db/columns'
import { sites } from './sites'

export const MONTH_ACTIONS = ['closed', 'reopened'] as const
export type MonthAction = (typeof MONTH_ACTIONS)[number]

/** What was done to a site's month, in order: the last says whether it is closed. `frozen` is what its page showed. */
export const monthEvents = pgTable(
  'month_events',
  {
    siteId: text('site_id')
      .notNull()
      .references(() => sites.id, { onDelete: 'cascade' }),
    month: text('month').notNull(),
    /** From 1. */
    number: integer('number').notNull(),
    action: text('action').$type<MonthAction>().notNull(),
    /** Who did it, as said. */
    author: text('author').notNull(),
    /** A note on closing, the reason on reopening. */
    note: text('note'),
    frozen: jsonb('frozen').$type<unknown>(),
    at: instant('at').notNull(),
  },
  (table) => [primaryKey({ columns: [table.siteId, table.month, table.number] })],
)

export type MonthEventRow = typeof monthEvents.$inferSelect
