import {
  bigint,
  doublePrecision,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  real,
  text,
  unique,
} from 'drizzle-orm/pg-core'
import { createdAt, instant, updatedAt } from '@/db/columns'
import type { Accuracy, Location, Quantity } from '@/lib/contract/machine'
import type { Reading } from '@/lib/contract/reading'
import type { ImportReport } from '@/lib/import/report'
import type { Unit } from '@/lib/units'
import { machines } from './machines'

/** `replaying`: stored like one that is `done`, but for its options, which are being replayed. */
export const LOG_STATES = [
  'received',
  'reading',
  'analysing',
  'storing',
  'replaying',
  'done',
  'failed',
] as const
export type LogState = (typeof LOG_STATES)[number]

/** Whether all that was logged is stored, with the account; options may still be missing. */
export const isStored = ({ state }: { readonly state: LogState }): boolean =>
  state === 'done' || state === 'replaying'

/** Why an import failed: a code and the values its sentence needs. */
export interface LogError {
  readonly code: string
  readonly values: Readonly<Record<string, string | number | null>>
}

/** A logged channel as stored: everything but its samples. `name` is the key of its chunks, unique in the log. */
export interface StoredChannel {
  readonly name: string
  readonly column: string
  readonly quantity: Quantity
  readonly location: Location
  readonly unit: Unit
  readonly accuracy: Accuracy | null
}

/** One of several files of a recording, as it was received. */
export interface LogPart {
  readonly fileName: string
  readonly byteLength: number
  readonly sha256: string
}

/** How a log's file is read beyond what it says itself. */
export interface LogReading {
  readonly reading: Reading
  /** The remembered layout that it comes from, as it was then; null where it was said for this file. */
  readonly remembered: { readonly id: string; readonly at: string; readonly by: string | null } | null
}

/** One recording of one machine; its file, samples, envelope, analysis and month totals hang on its key. */
export const logs = pgTable(
  'logs',
  {
    machineId: text('machine_id')
      .notNull()
      .references(() => machines.id, { onDelete: 'cascade' }),
    id: text('id').notNull(),
    siteId: text('site_id').notNull(),
    /** SHA-256 of the unpacked text: the same recording is known again, packed or not. Of several files: of theirs, sorted. */
    sha256: text('sha256').notNull(),
    fileName: text('file_name').notNull(),
    /** Length of the original file. */
    byteLength: bigint('byte_length', { mode: 'number' }).notNull(),
    /** The files of a recording that came in several; null for one. */
    parts: jsonb('parts').$type<LogPart[]>(),
    state: text('state').$type<LogState>().notNull(),
    /** Share of the present state's work that is done, 0 to 1. */
    progress: real('progress').notNull().default(0),
    error: jsonb('error').$type<LogError>(),
    startedAt: instant('started_at'),
    endedAt: instant('ended_at'),
    durationS: doublePrecision('duration_s'),
    sampleIntervalS: doublePrecision('sample_interval_s'),
    sampleCount: integer('sample_count'),
    rowsRead: integer('rows_read'),
    rowsUsed: integer('rows_used'),
    rowsRejected: integer('rows_rejected'),
    channels: jsonb('channels').$type<StoredChannel[]>(),
    report: jsonb('report').$type<ImportReport>(),
    /** Null where nobody said anything of it: the file alone and the machine tell. */
    reading: jsonb('reading').$type<LogReading>(),
    /** The log whose place it takes: deleted once this one is stored. */
    replaces: text('replaces'),
    createdAt: createdAt(),
    updatedAt: updatedAt(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.id] }),
    unique('logs_same_file').on(table.machineId, table.sha256),
    index('logs_by_id').on(table.id),
    index('logs_by_start').on(table.machineId, table.startedAt),
  ],
)

export type LogRow = typeof logs.$inferSelect
