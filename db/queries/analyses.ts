import { and, eq, getTableColumns, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { type AnalysisRow, analyses } from '@/db/schema/analyses'

export type NewAnalysis = Pick<
  AnalysisRow,
  'engineVersion' | 'readingInputs' | 'computingInputs' | 'analysis' | 'grounds' | 'evidence'
>

/** Stores what was computed of a log, in place of what was there. */
export async function saveAnalysis(
  db: Database,
  key: LogKey & { readonly siteId: string },
  computed: NewAnalysis,
): Promise<void> {
  await db
    .insert(analyses)
    .values({ ...key, ...computed })
    .onConflictDoUpdate({
      target: [analyses.machineId, analyses.logId],
      // What was to be inserted: it is not sent again.
      set: {
        engineVersion: sql`excluded.engine_version`,
        readingInputs: sql`excluded.reading_inputs`,
        computingInputs: sql`excluded.computing_inputs`,
        analysis: sql`excluded.analysis`,
        grounds: sql`excluded.grounds`,
        evidence: sql`excluded.evidence`,
        computedAt: sql`now()`,
      },
    })
}

export type StoredAnalysis = Omit<AnalysisRow, 'grounds' | 'evidence'>

/** What was computed of a log; what explanations and proofs want beside it is as much again, and not read. */
export async function findAnalysis(db: Database, key: LogKey): Promise<StoredAnalysis | null> {
  const { grounds: _, evidence: __, ...columns } = getTableColumns(analyses)
  const [row] = await db
    .select(columns)
    .from(analyses)
    .where(and(eq(analyses.machineId, key.machineId), eq(analyses.logId, key.logId)))
  return row ?? null
}

/** The same with all that was kept beside it. */
export async function findWholeAnalysis(db: Database, key: LogKey): Promise<AnalysisRow | null> {
  const [row] = await db
    .select()
    .from(analyses)
    .where(and(eq(analyses.machineId, key.machineId), eq(analyses.logId, key.logId)))
  return row ?? null
}

export type StoredEvidence = Pick<AnalysisRow, 'logId' | 'evidence'>

/** What a machine's analysed logs say for proofs of savings. */
export async function listEvidence(db: Database, machineId: string): Promise<StoredEvidence[]> {
  return db
    .select({ logId: analyses.logId, evidence: analyses.evidence })
    .from(analyses)
    .where(eq(analyses.machineId, machineId))
}

export type AnalysisInputs = Pick<AnalysisRow, 'logId' | 'readingInputs' | 'computingInputs'>

/** With which set-up each of a machine's analyses was made. */
export async function listAnalysisInputs(db: Database, machineId: string): Promise<AnalysisInputs[]> {
  return db
    .select({
      logId: analyses.logId,
      readingInputs: analyses.readingInputs,
      computingInputs: analyses.computingInputs,
    })
    .from(analyses)
    .where(eq(analyses.machineId, machineId))
}

/** With which set-up a log's analysis was made; null where it has none. */
export async function findComputingInputs(db: Database, key: LogKey): Promise<string | null> {
  const [row] = await db
    .select({ computingInputs: analyses.computingInputs })
    .from(analyses)
    .where(and(eq(analyses.machineId, key.machineId), eq(analyses.logId, key.logId)))
  return row?.computingInputs ?? null
}
