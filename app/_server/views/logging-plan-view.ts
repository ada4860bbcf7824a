import { setImmediate } from 'node:timers/promises'
import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import { listLogs } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { LogRow } from '@/db/schema/logs'
import type { Machine } from '@/lib/contract/machine'
import { analysisSchema } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { type LoggingPlan, loggingPlan, type PlanInputs, type Wishes } from '@/lib/logging-plan/plan'
import type { SeenLog } from '@/lib/logging-plan/scatter'
import { hoursByShift } from '@/lib/logging-plan/shift-cover'
import { type StationId, stationsOf } from '@/lib/logging-plan/stations'

export interface LoggingPlanView {
  readonly id: string
  readonly name: string
  readonly machine: Machine
  readonly site: Site
  readonly plan: LoggingPlan
  /** Recordings that the scatter and the mix of phases come from. */
  readonly logCount: number
  /** Sensors of the latest recording, where there is one. */
  readonly lastStations: readonly StationId[] | null
  readonly shifts: ReturnType<typeof hoursByShift>
}

/** Scatter and mix come from the latest recordings; more of them would tell no more than these. */
const MOST_LOGS = 12
const MOST_KEPT = 32
const kept = new Map<string, LoggingPlan>()

/** The plan, worked out bit by bit so that other requests are answered between; kept for when it is asked for again. */
async function planOf(inputs: PlanInputs, stamp: string): Promise<LoggingPlan> {
  const { machine, site, wishes } = inputs
  const key = JSON.stringify([machine, site, wishes, stamp])
  const known = kept.get(key)
  if (known) return known
  const job = loggingPlan(inputs)
  let next = job.next()
  while (!next.done) {
    await setImmediate()
    next = job.next()
  }
  kept.set(key, next.value)
  const [oldest] = kept.keys()
  if (kept.size > MOST_KEPT) kept.delete(oldest)
  return next.value
}

/** Wall clock at the site. */
function clockOf(timeZone: string) {
  const day = new Intl.DateTimeFormat('en-CA', { timeZone, dateStyle: 'short' })
  const time = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  })
  return {
    dayOf: (epochMs: number) => day.format(epochMs),
    hourOf: (epochMs: number) => {
      const [hour, minute] = time.format(epochMs).split(':').map(Number)
      return hour + minute / 60
    },
  }
}

interface Seen {
  readonly log: SeenLog
  readonly stations: StationId[]
  readonly stamp: string
}

async function seenIn(db: Database, machineId: string, row: LogRow): Promise<Seen | null> {
  const found = await findAnalysis(db, { machineId, logId: row.id })
  // What an earlier engine stored counts again once it has been brought up to date.
  if (!found || !analysisSchema.safeParse(found.analysis).success) return null
  const { phases, ledgerByPhase } = found.analysis
  return {
    log: { startedAtMs: row.startedAt?.getTime() ?? null, phases, ledgerByPhase },
    stations: stationsOf(row.channels ?? []),
    stamp: `${row.id} ${found.computedAt.toISOString()}`,
  }
}

/** The logging plan of a machine, with what its stored recordings show. */
export async function loggingPlanView(
  db: Database,
  id: string,
  wishesFor: (site: Site) => Wishes,
): Promise<LoggingPlanView | null> {
  const found = await findMachine(db, id)
  if (!found) return null
  const site = await siteSettings(db, found.siteId)
  const rows = (await listLogs(db, id)).filter(({ state }) => state === 'done')
  const seen: Seen[] = []
  for (const row of rows.slice(0, MOST_LOGS)) {
    const one = await seenIn(db, id, row)
    if (one) seen.push(one)
  }
  const { dayOf, hourOf } = clockOf(site.timeZone)
  const machine = found.config
  const wishes = wishesFor(site)
  const logs = seen.map(({ log }) => log)
  const recorded = rows.flatMap(({ startedAt, durationS }) =>
    startedAt && durationS ? [{ startedAtMs: startedAt.getTime(), durationS }] : [],
  )
  return {
    id,
    name: found.name,
    machine,
    site,
    plan: await planOf({ machine, site, logs, dayOf, wishes }, seen.map(({ stamp }) => stamp).join()),
    logCount: seen.length,
    lastStations: seen[0]?.stations ?? null,
    shifts: hoursByShift(recorded, hourOf),
  }
}
