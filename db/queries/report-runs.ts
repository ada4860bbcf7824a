import { and, desc, eq, isNull, lt, or, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogError } from '@/db/schema/logs'
import { type ReportRunRow, reportRuns } from '@/db/schema/report-runs'

export type NewReportRun = Pick<ReportRunRow, 'id' | 'siteId' | 'kind' | 'subject' | 'isScheduled'>

/** A run without its files. */
export type ReportRunFacts = Omit<ReportRunRow, 'pdf' | 'xlsx' | 'startedAt' | 'deletedAt'> & {
  readonly hasPdf: boolean
  readonly hasXlsx: boolean
}

const facts = {
  siteId: reportRuns.siteId,
  id: reportRuns.id,
  kind: reportRuns.kind,
  subject: reportRuns.subject,
  isScheduled: reportRuns.isScheduled,
  state: reportRuns.state,
  error: reportRuns.error,
  engineVersion: reportRuns.engineVersion,
  createdAt: reportRuns.createdAt,
  endedAt: reportRuns.endedAt,
  hasPdf: sql<boolean>`${reportRuns.pdf} is not null`,
  hasXlsx: sql<boolean>`${reportRuns.xlsx} is not null`,
}

const MOST_LISTED = 200

/** The latest runs of a site, latest first. */
export async function listReportRuns(db: Database, siteId: string): Promise<ReportRunFacts[]> {
  return db
    .select(facts)
    .from(reportRuns)
    .where(and(eq(reportRuns.siteId, siteId), isNull(reportRuns.deletedAt)))
    .orderBy(desc(reportRuns.createdAt))
    .limit(MOST_LISTED)
}

/** Makes a run that waits for its turn; false where one of its id is there already. */
export async function insertReportRun(db: Database, run: NewReportRun): Promise<boolean> {
  const made = await db
    .insert(reportRuns)
    .values({ ...run, state: 'waiting' })
    .onConflictDoNothing()
    .returning({ id: reportRuns.id })
  return made.length > 0
}

const is = (siteId: string, id: string) =>
  and(eq(reportRuns.siteId, siteId), eq(reportRuns.id, id), isNull(reportRuns.deletedAt))

export async function findReportRun(
  db: Database,
  siteId: string,
  id: string,
): Promise<ReportRunFacts | null> {
  const [row] = await db.select(facts).from(reportRuns).where(is(siteId, id))
  return row ?? null
}

/** One of its files; null where it has none such. */
export async function findReportFile(
  db: Database,
  siteId: string,
  id: string,
  format: 'pdf' | 'xlsx',
): Promise<Uint8Array | null> {
  const [row] = await db.select({ bytes: reportRuns[format] }).from(reportRuns).where(is(siteId, id))
  return row?.bytes ?? null
}

export async function startReportRun(db: Database, siteId: string, id: string): Promise<void> {
  await db.update(reportRuns).set({ state: 'running', startedAt: sql`now()` }).where(is(siteId, id))
}

export interface FinishedReport {
  readonly state: 'done' | 'failed'
  readonly error: LogError | null
  readonly engineVersion: number
  readonly pdf: Uint8Array | null
  readonly xlsx: Uint8Array | null
}

export async function finishReportRun(
  db: Database,
  siteId: string,
  id: string,
  finished: FinishedReport,
): Promise<void> {
  await db
    .update(reportRuns)
    .set({ ...finished, endedAt: sql`now()` })
    .where(is(siteId, id))
}

/** False where there is no such run. Of one that came due by itself its id stays, so that it does not come due again. */
export async function deleteReportRun(db: Database, siteId: string, id: string): Promise<boolean> {
  const run = is(siteId, id)
  const kept = await db
    .update(reportRuns)
    .set({ deletedAt: sql`now()`, pdf: null, xlsx: null })
    .where(and(run, eq(reportRuns.isScheduled, true)))
    .returning({ id: reportRuns.id })
  if (kept.length > 0) return true
  const gone = await db.delete(reportRuns).where(run).returning({ id: reportRuns.id })
  return gone.length > 0
}

/** Marks runs as interrupted that began before a moment and never ended, and those that have waited since before another. */
export async function failDeadReports(
  db: Database,
  { begunBefore, waitingSince }: { readonly begunBefore: Date; readonly waitingSince: Date },
): Promise<void> {
  await db
    .update(reportRuns)
    .set({ state: 'failed', error: { code: 'interrupted', values: {} }, endedAt: sql`now()` })
    .where(
      or(
        and(eq(reportRuns.state, 'running'), lt(reportRuns.startedAt, begunBefore)),
        // Runs that began before their start was kept are known by when they were asked for.
        and(
          eq(reportRuns.state, 'running'),
          isNull(reportRuns.startedAt),
          lt(reportRuns.createdAt, begunBefore),
        ),
        and(eq(reportRuns.state, 'waiting'), lt(reportRuns.createdAt, waitingSince)),
      ),
    )
}
