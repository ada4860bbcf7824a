import type { LayoutAnswer } from '@/app/_server/inspection-shapes'
import { layoutAnswer } from '@/app/_server/layout-answer'
import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import { listLayouts } from '@/db/queries/layouts'
import { listLogs } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { ReportedLevels } from '@/lib/contract/levels'
import type { Machine } from '@/lib/contract/machine'
import { type Analysis, analysisSchema } from '@/lib/contract/result'
import { wallClock } from '@/lib/economics/local-time'
import { calendarOn } from '@/lib/economics/planned-time'

/** What one log says of the levels that tell phases apart. */
export interface SeenLevels {
  readonly logId: string
  readonly fileName: string
  /** Whether it is the machine's latest recording. */
  readonly isLatest: boolean
  readonly levels: ReportedLevels
  readonly channels: Analysis['log']['channels']
}

export interface SetupView {
  readonly id: string
  readonly name: string
  readonly line: string | null
  readonly trade: string | null
  readonly config: Machine
  readonly timeZone: string
  /** Name of the shift calendar that holds today; null without one. */
  readonly calendar: string | null
  /** How files of known layouts are read, the latest first. */
  readonly layouts: readonly LayoutAnswer[]
  /** Null where no log has been analysed. */
  readonly seen: SeenLevels | null
}

/** A machine's set-up, and beside it what a log shows: the one asked for, else the latest stored. */
export async function setupView(
  db: Database,
  id: string,
  wantedLog: string | undefined,
): Promise<SetupView | null> {
  const machine = await findMachine(db, id)
  if (!machine) return null
  const stored = (await listLogs(db, id)).filter(({ state }) => state === 'done')
  const log = stored.find((one) => one.id === wantedLog) ?? stored[0]
  const found = log && (await findAnalysis(db, { machineId: id, logId: log.id }))
  // An earlier engine stored no levels: they are shown once the log has been brought up to date.
  const isReadable = found && analysisSchema.safeParse(found.analysis).success
  const { name, line, trade, config } = machine
  const site = await siteSettings(db, machine.siteId)
  const today = wallClock(Date.now(), site.timeZone).date
  return {
    id,
    name,
    line,
    trade,
    config,
    timeZone: site.timeZone,
    calendar: calendarOn(today, machine, site)?.name ?? null,
    layouts: (await listLayouts(db, machine.id)).map(layoutAnswer),
    seen: isReadable
      ? {
          logId: log.id,
          fileName: log.fileName,
          isLatest: log === stored[0],
          levels: found.analysis.levels,
          channels: found.analysis.log.channels,
        }
      : null,
  }
}
