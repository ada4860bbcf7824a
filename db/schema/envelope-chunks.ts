import { integer, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { bytea } from '@/db/columns'
import { logKey, ofLog } from './log-key'

/** Stretches of one level of a channel's envelope (min, max, mean a cell), encoded and gzipped. */
export const envelopeChunks = pgTable(
  'envelope_chunks',
  {
    ...logKey(),
    channel: text('channel').notNull(),
    level: integer('level').notNull(),
    seq: integer('seq').notNull(),
    bytes: bytea('bytes').notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.logId, table.channel, table.level, table.seq] }),
    ofLog(table),
  ],
)
