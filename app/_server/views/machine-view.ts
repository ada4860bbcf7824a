import { isRefreshing, type RefreshState, refreshState } from '@/app/_jobs/queue'
import { correctionAnswers, isUpToDate } from '@/app/_server/correction-answer'
import type { CorrectionAnswer } from '@/app/_server/shapes'
import { describe } from '@/app/_words/describe'
import { errorWords } from '@/app/_words/errors'
import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import { listCorrections } from '@/db/queries/corrections'
import { listLogs } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import { isStored, type LogRow, type StoredChannel } from '@/db/schema/logs'
import type { Machine } from '@/lib/contract/machine'
import { analysisSchema, type Result } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { TankwardError } from '@/lib/errors'

export interface LogChoice {
  readonly id: string
  readonly fileName: string
  readonly state: LogRow['state']
  readonly progress: number
  readonly startedAt: string | null
  readonly receivedAt: string
  readonly durationS: number | null
  /** Why it is not there, or could not be brought up to date. */
  readonly failure: string | null
}

export interface MachineView {
  readonly id: string
  readonly name: string
  readonly line: string | null
  readonly trade: string | null
  readonly config: Machine
  readonly site: Site
  readonly logs: readonly LogChoice[]
  readonly chosen: LogChoice | null
  /** Whether its figures are just being brought up to date with a changed set-up, price or engine. */
  readonly refreshing: boolean
  /** How far that is; null while it waits its turn. */
  readonly refresh: RefreshState | null
  readonly corrections: readonly CorrectionAnswer[]
  /** Whether the result is made with these corrections and no others. */
  readonly correctionsUpToDate: boolean
  /** When the result was made; null where there is none. */
  readonly computedAt: string | null
  readonly channels: readonly StoredChannel[]
  readonly result: Result | null
}

/** The log as the pages list it, its failure in words. */
export function logChoice(row: LogRow): LogChoice {
  const words = row.error ? errorWords(new TankwardError(row.error.code, row.error.values)) : null
  return {
    id: row.id,
    fileName: row.fileName,
    state: row.state,
    progress: row.progress,
    startedAt: row.startedAt?.toISOString() ?? null,
    receivedAt: row.createdAt.toISOString(),
    durationS: row.durationS,
    failure: words ? `${words.title}. ${words.detail}` : null,
  }
}

/** One machine with its logs and the result of one of them: the one asked for, else the latest stored. */
export async function machineView(
  db: Database,
  id: string,
  wantedLog: string | undefined,
): Promise<MachineView | null> {
  const machine = await findMachine(db, id)
  if (!machine) return null
  const rows = await listLogs(db, id)
  const row = rows.find((one) => one.id === wantedLog) ?? rows.find(isStored) ?? null
  const key = row && { machineId: id, logId: row.id }
  const found = key && isStored(row) ? await findAnalysis(db, key) : null
  const corrections = key ? await listCorrections(db, key) : []
  // An earlier engine stored fewer fields: its result is shown again once it has been brought up to date.
  const readable = found && analysisSchema.safeParse(found.analysis).success ? found.analysis : null
  return {
    id,
    name: machine.name,
    line: machine.line,
    trade: machine.trade,
    config: machine.config,
    site: await siteSettings(db, machine.siteId),
    logs: rows.map(logChoice),
    chosen: row && logChoice(row),
    refreshing: isRefreshing(id),
    refresh: refreshState(id),
    corrections: correctionAnswers(corrections, readable?.corrections ?? []),
    correctionsUpToDate: isUpToDate(corrections, readable?.corrections ?? []),
    computedAt: found?.computedAt.toISOString() ?? null,
    channels: row?.channels ?? [],
    result: readable && describe(readable),
  }
}
