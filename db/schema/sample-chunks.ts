import { doublePrecision, integer, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { bytea } from '@/db/columns'
import { logKey, ofLog } from './log-key'

/** Stretches of one channel's samples, encoded by lib/samples/codec and gzipped. */
export const sampleChunks = pgTable(
  'sample_chunks',
  {
    ...logKey(),
    channel: text('channel').notNull(),
    seq: integer('seq').notNull(),
    firstSample: integer('first_sample').notNull(),
    sampleCount: integer('sample_count').notNull(),
    /** Elapsed time of the chunk's first sample: which chunk holds an instant is found without unpacking. */
    startS: doublePrecision('start_s').notNull(),
    bytes: bytea('bytes').notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.logId, table.channel, table.seq] }),
    ofLog(table),
  ],
)
