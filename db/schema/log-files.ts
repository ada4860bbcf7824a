import { integer, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { bytea } from '@/db/columns'
import { logKey, ofLog } from './log-key'

export const PACKINGS = ['brotli', 'gzip', 'none'] as const
/**
 * `brotli`, `gzip`: the pieces joined are the original, packed by this server or for its journey; `none`: they are the
 * original itself (a `.gz`).
 */
export type Packing = (typeof PACKINGS)[number]

/** The original file in pieces, kept so that it can be downloaded again byte for byte. */
export const logFiles = pgTable(
  'log_files',
  {
    ...logKey(),
    /** Which of the files of a recording, from 0. */
    part: integer('part').notNull().default(0),
    seq: integer('seq').notNull(),
    packing: text('packing').$type<Packing>().notNull(),
    bytes: bytea('bytes').notNull(),
  },
  (table) => [primaryKey({ columns: [table.machineId, table.logId, table.part, table.seq] }), ofLog(table)],
)
