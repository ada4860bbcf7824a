import { describeProblem } from '@/app/_words/describe'
import type { Database } from '@/db/client'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { type LogQuality, listMonthQuality, listWorstProblems } from '@/db/queries/views-quality'
import { groupBy } from './group-by'

export interface QualityView {
  readonly logId: string
  readonly fileName: string
  readonly startedAt: string | null
  readonly durationS: number | null
  readonly rowsRead: number | null
  readonly rowsRejected: number | null
  /** Null where nothing is kept of its analysis: an earlier engine made it. */
  readonly modelTrusted: boolean | null
  /** Its options are still being replayed, and with them what was wrong with it becomes known. */
  readonly isReplaying?: boolean
  readonly problemCount: number | null
  /** What was wrong with it; null where there is something but others need a look sooner. */
  readonly problems: readonly string[] | null
}

/** Of so many logs of a month it is told what was wrong with them: nobody reads more at once, each log's page has its own. */
export const MOST_TOLD = 50

function qualityOf(log: LogQuality, told: ReadonlyMap<string, readonly string[]>): QualityView {
  const { logId, fileName, startedAt, durationS, rowsRead, rowsRejected, modelTrusted, problemCount } = log
  // Read anew it keeps what was known of it before.
  const isReplaying = log.state === 'replaying' && problemCount === null
  return {
    logId,
    fileName,
    startedAt: startedAt?.toISOString() ?? null,
    durationS,
    rowsRead,
    rowsRejected,
    modelTrusted,
    problemCount,
    isReplaying,
    problems: problemCount === 0 ? [] : (told.get(logId) ?? null),
  }
}

/** Sentences of what was wrong with the logs that need a look most, by log. */
async function toldProblems(db: Database, month: string) {
  const worst = await listWorstProblems(db, DEFAULT_SITE_ID, month, MOST_TOLD)
  return new Map(
    worst.map(({ logId, problems }) => [logId, problems.map((problem) => describeProblem(problem).message)]),
  )
}

/** The logs that a month stands on, by machine. */
export async function logsByMachine(db: Database, month: string): Promise<Map<string, QualityView[]>> {
  const [quality, told] = await Promise.all([
    listMonthQuality(db, DEFAULT_SITE_ID, month),
    toldProblems(db, month),
  ])
  const logs = groupBy(quality, (log) => log.machineId)
  return new Map([...logs].map(([id, own]) => [id, own.map((log) => qualityOf(log, told))]))
}
