import { and, desc, eq, isNotNull, isNull, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { markSound } from '@/db/queries/month-digests'
import { analyses } from '@/db/schema/analyses'
import { type BestOption, type LogDigestRow, type LogFigures, logDigests } from '@/db/schema/log-digests'
import { logs } from '@/db/schema/logs'
import { machines } from '@/db/schema/machines'
import { monthDigests } from '@/db/schema/month-digests'
import type { OptionId } from '@/lib/contract/option-result'
import type { Note } from '@/lib/contract/result'
import type { FundingChoice } from '@/lib/portfolio/choice'

export type NewLogDigest = Pick<
  LogDigestRow,
  'figures' | 'modelTrusted' | 'problems' | 'best' | 'choices' | 'cautions'
>

/**
 * Stores what lists need of a log's analysis, in place of what was there, and whether it is sound with its months; the log
 * is stored already. To be called within a transaction.
 */
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
  await markSound(db, key)
}

const LATEST_FIRST = [
  logDigests.machineId,
  sql`${logDigests.startedAt} desc nulls last`,
  desc(logDigests.receivedAt),
]

export interface LatestDigest {
  readonly logId: string
  /** When it was recorded, null where it has no date, and when it was received: ISO 8601. */
  readonly startedAt: string | null
  readonly receivedAt: string
  /** Null where the recording has a date: its months have its figures. */
  readonly figures: LogFigures | null
  readonly modelTrusted: boolean
  readonly bestOption: OptionId | null
  readonly bestSavedKWhPerYear: number | null
}

/** Of each machine's latest stored recording what a comparison needs. */
export async function listLatestDigests(db: Database, siteId: string): Promise<Map<string, LatestDigest>> {
  const { machineId, logId, startedAt, receivedAt, figures, modelTrusted } = logDigests
  const { bestOption, bestSavedKWhPerYear } = logDigests
  const latest = db
    .select({
      machineId,
      logId,
      startedAt,
      receivedAt,
      figures,
      modelTrusted,
      bestOption,
      bestSavedKWhPerYear,
    })
    .from(logDigests)
    .where(and(eq(machineId, machines.id), eq(logDigests.siteId, siteId)))
    .orderBy(...LATEST_FIRST)
    .limit(1)
    .as('latest')
  const ownFigures = sql`case when ${latest.startedAt} is null then ${latest.figures} end`
  // One value: a driver takes longer over rows than over JSON.
  const fields = sql`${latest.machineId}, ${latest.logId}, ${latest.startedAt}, ${latest.receivedAt}, ${ownFigures}, ${latest.modelTrusted}, ${latest.bestOption}, ${latest.bestSavedKWhPerYear}`
  type Row = [
    string,
    string,
    string | null,
    string,
    LogFigures | null,
    boolean,
    OptionId | null,
    number | null,
  ]
  const [{ rows }] = await db
    .select({ rows: sql<Row[]>`coalesce(json_agg(json_build_array(${fields})), '[]')` })
    .from(machines)
    .innerJoinLateral(latest, sql`true`)
  const iso = (instant: string) => new Date(instant).toISOString()
  return new Map(
    rows.map(([id, log, started, received, ofLog, trusted, option, savedKWh]) => [
      id,
      {
        logId: log,
        startedAt: started && iso(started),
        receivedAt: iso(received),
        figures: ofLog,
        modelTrusted: trusted,
        bestOption: option,
        bestSavedKWhPerYear: savedKWh,
      },
    ]),
  )
}

/**
 * What to do first with each machine, by its latest stored recording; null where no option saves. Read out of JSON for the
 * machine that is asked for: a fleet's options kept at once cost the collector more than reading each.
 */
export async function listBestOptions(
  db: Database,
  siteId: string,
): Promise<(machineId: string) => BestOption | null> {
  const latest = db
    .select({ machineId: logDigests.machineId, best: logDigests.best })
    .from(logDigests)
    .where(and(eq(logDigests.machineId, machines.id), eq(logDigests.siteId, siteId)))
    .orderBy(...LATEST_FIRST)
    .limit(1)
    .as('latest')
  // Two values: a driver takes longer over rows. JSON as the database writes it out has no line breaks of its own.
  const [{ ids, lines }] = await db
    .select({
      ids: sql<string[]>`coalesce(json_agg(${latest.machineId}), '[]')`,
      lines: sql<string>`coalesce(string_agg(${latest.best}::text, chr(10)), '')`,
    })
    .from(machines)
    .innerJoinLateral(latest, isNotNull(latest.best))
  const bests = lines.split('\n')
  const places = new Map(ids.map((id, i) => [id, i]))
  return (machineId) => {
    const place = places.get(machineId)
    return place === undefined ? null : JSON.parse(bests[place])
  }
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
  // Machine by machine along the index: sorting all logs of a fleet takes ten times as long.
  const latest = db
    .select({ machineId, logId, startedAt, receivedAt, modelTrusted, choices, cautions })
    .from(logDigests)
    .where(and(eq(machineId, machines.id), eq(logDigests.siteId, siteId)))
    .orderBy(...LATEST_FIRST)
    .limit(1)
    .as('latest')
  return db
    .select({
      machineId: latest.machineId,
      logId: latest.logId,
      startedAt: latest.startedAt,
      receivedAt: latest.receivedAt,
      modelTrusted: latest.modelTrusted,
      choices: latest.choices,
      cautions: latest.cautions,
    })
    .from(machines)
    .innerJoinLateral(latest, sql`true`)
}

export type LogAddress = LogKey & { readonly siteId: string }

/** Logs whose analysis was stored before there were digests, and whether what they add to their months has one already. */
export async function listUndigested(db: Database): Promise<(LogAddress & { hasMonths: boolean })[]> {
  const { machineId, logId, siteId } = analyses
  const ofMonths = db
    .select({ month: monthDigests.month })
    .from(monthDigests)
    .where(and(eq(monthDigests.machineId, machineId), eq(monthDigests.logId, logId)))
  return db
    .select({ machineId, logId, siteId, hasMonths: sql<boolean>`exists ${ofMonths}` })
    .from(analyses)
    .leftJoin(
      logDigests,
      and(eq(logDigests.machineId, analyses.machineId), eq(logDigests.logId, analyses.logId)),
    )
    .where(isNull(logDigests.logId))
}
