import { doublePrecision, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { createdAt } from '@/db/columns'
import { measureKey, ofMeasure } from './measures'

/** What a measure would cost, in the site's currency of that day, as somebody offered it. */
export const measureQuotes = pgTable(
  'measure_quotes',
  {
    ...measureKey(),
    id: text('id').notNull(),
    text: text('text').notNull(),
    amount: doublePrecision('amount').notNull(),
    currency: text('currency').notNull(),
    on: text('on_day').notNull(),
    createdAt: createdAt(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.measureId, table.id] }), ofMeasure(table)],
)

export type MeasureQuoteRow = typeof measureQuotes.$inferSelect
