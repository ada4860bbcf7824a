import { and, desc, eq, isNull, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { analyses } from '@/db/schema/analyses'
import { type BestOption, type LogDigestRow, type LogFigures, logDigests } from '@/db/schema/log-digests'
import { logs } from '@/db/schema/logs'
import type { OptionId } from '@/lib/contract/option-result'
import type { Note } from '@/lib/contract/result'
import type { FundingChoice } from '@/lib/portfolio/choice'

export type NewLogDigest = Pick<
  LogDigestRow,
  'figures' | 'modelTrusted' | 'problems' | 'best' | 'choices' | 'cautions'
>

/** Stores what lists need of a log's analysis, in place of what was there; the log is stored already. */
export async function saveLogDigest(
  db: Database,
  key: LogKey & { readonly siteId: string },
  digest: NewLogDigest,
): Promise<void> {
  const [log] = await db
    .select({ startedAt: logs.startedAt, receivedAt: logs.createdAt })
    .from(logs)
    .where(and(eq(logs.machineId, key.machineId), eq(logs.id, key.logId)))
  if (!log) return
  const row = { ...log, ...digest }
  await db
    .insert(logDigests)
    .values({ ...key, ...row })
    .onConflictDoUpdate({ target: [logDigests.machineId, logDigests.logId], set: row })
}

const LATEST_FIRST = [
  logDigests.machineId,
  sql`${logDigests.startedAt} desc nulls last`,
  desc(logDigests.receivedAt),
]

export interface LatestDigest {
  readonly machineId: string
  readonly logId: string
  readonly startedAt: Date | null
  readonly receivedAt: Date
  readonly figures: LogFigures
  readonly modelTrusted: boolean
  readonly best: BestOption | null
}

/** Of each machine's latest stored recording what a comparison needs. */
export async function listLatestDigests(db: Database, siteId: string): Promise<LatestDigest[]> {
  const { machineId, logId, startedAt, receivedAt, figures, modelTrusted, best } = logDigests
  return db
    .selectDistinctOn([machineId], { machineId, logId, startedAt, receivedAt, figures, modelTrusted, best })
    .from(logDigests)
    .where(eq(logDigests.siteId, siteId))
    .orderBy(...LATEST_FIRST)
}

export interface LatestChoices {
  readonly machineId: string
  readonly logId: string
  readonly startedAt: Date | null
  readonly receivedAt: Date
  readonly modelTrusted: boolean
  readonly choices: FundingChoice[]
  readonly cautions: Partial<Record<OptionId, Note[]>>
}

/** Of each machine's latest stored recording what could be bought by it. */
export async function listLatestChoices(db: Database, siteId: string): Promise<LatestChoices[]> {
  const { machineId, logId, startedAt, receivedAt, modelTrusted, choices, cautions } = logDigests
  return db
    .selectDistinctOn([machineId], {
      machineId,
      logId,
      startedAt,
      receivedAt,
      modelTrusted,
      choices,
      cautions,
    })
    .from(logDigests)
    .where(eq(logDigests.siteId, siteId))
    .orderBy(...LATEST_FIRST)
}

export type LogAddress = LogKey & { readonly siteId: string }

/** Logs whose analysis was stored before there were digests. */
export async function listUndigested(db: Database): Promise<LogAddress[]> {
  return db
    .select({ machineId: analyses.machineId, logId: analyses.logId, siteId: analyses.siteId })
    .from(analyses)
    .leftJoin(
      logDigests,
      and(eq(logDigests.machineId, analyses.machineId), eq(logDigests.logId, analyses.logId)),
    )
    .where(isNull(logDigests.logId))
}
