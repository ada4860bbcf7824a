import { boolean, index, integer, jsonb, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { bytea, createdAt, instant } from '@/db/columns'
import type { LogError } from './logs'
import { sites } from './sites'

export const REPORT_KINDS = ['month', 'machine'] as const
export type ReportKind = (typeof REPORT_KINDS)[number]

export const REPORT_STATES = ['waiting', 'running', 'done', 'failed'] as const
export type ReportState = (typeof REPORT_STATES)[number]

/** A report that was made and kept as it was then: what it showed stays, whatever changes afterwards. */
export const reportRuns = pgTable(
  'report_runs',
  {
    siteId: text('site_id')
      .notNull()
      .references(() => sites.id, { onDelete: 'cascade' }),
    id: text('id').notNull(),
    kind: text('kind').$type<ReportKind>().notNull(),
    /** The month as `YYYY-MM`, or the machine's id. */
    subject: text('subject').notNull(),
    /** Whether it came due by itself, or somebody asked for it. */
    isScheduled: boolean('is_scheduled').notNull(),
    state: text('state').$type<ReportState>().notNull(),
    /** Why it failed, or why it has no PDF. */
    error: jsonb('error').$type<LogError>(),
    engineVersion: integer('engine_version'),
    pdf: bytea('pdf'),
    xlsx: bytea('xlsx'),
    createdAt: createdAt(),
    /** When its turn came; null as long as it waits. */
    startedAt: instant('started_at'),
    endedAt: instant('ended_at'),
    /** Set where somebody deleted what came due by itself: its files are gone, and it is not made again by itself. */
    deletedAt: instant('deleted_at'),
  },
  (table) => [
    primaryKey({ columns: [table.siteId, table.id] }),
    index('report_runs_by_subject').on(table.siteId, table.kind, table.subject),
  ],
)

export type ReportRunRow = typeof reportRuns.$inferSelect
