import type { Database } from '@/db/client'
import { listEvidence } from '@/db/queries/analyses'
import { listDoneLogs } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { listMeasureEvents } from '@/db/queries/measures'
import { listProduction } from '@/db/queries/production'
import { siteSettings } from '@/db/queries/sites'
import type { LogRow } from '@/db/schema/logs'
import type { MeasureRow } from '@/db/schema/measures'
import { type Proof, type ProofSetup, proofSetupSchema } from '@/lib/contract/proof'
import { calendarYearHours } from '@/lib/economics/planned-time'
import { sideOfLog } from '@/lib/proof/choose-logs'
import { prove } from '@/lib/proof/prove'
import { plateChanges, settingMoved } from '@/lib/proof/setup-changes'
import type { ProofLog, Side } from '@/lib/proof/units'
import { type ProofWarning, warning } from '@/lib/proof/warning'
import { localDay } from './local-day'

/** A log as a person chooses it for a proof. */
export interface ProofLogChoice {
  readonly logId: string
  readonly fileName: string
  readonly startedAt: string | null
  readonly side: Side | null
  readonly pieces: number | null
  readonly cycles: number | null
}

export interface ProvenMeasure {
  readonly proof: Proof
  readonly installedOn: string | null
  readonly logs: readonly ProofLogChoice[]
}

/** Day of the latest step `installed`; null where it was taken back or never made. */
async function installedOn(db: Database, { machineId, id, state }: MeasureRow): Promise<string | null> {
  if (state !== 'installed' && state !== 'verified') return null
  const events = await listMeasureEvents(db, { machineId, measureId: id })
  // Steps back from `verified` say `installed` once more: the day it happened is that of the first of them.
  let day: string | null = null
  for (const event of events) {
    if (event.state === 'installed') day ??= event.on
    else if (event.state !== 'verified') day = null
  }
  return day
}

const daysOf = ({ id, startedAt, endedAt }: LogRow, timeZone: string) =>
  startedAt && endedAt
    ? { logId: id, startDay: localDay(startedAt, timeZone), endDay: localDay(endedAt, timeZone) }
    : null

/** Proves a measure with the logs of its machine as they are now; `setup` instead of its own where one is tried. */
export async function proveMeasure(
  db: Database,
  measure: MeasureRow,
  tried?: ProofSetup,
): Promise<ProvenMeasure> {
  const { machineId, siteId, optionId, expected } = measure
  const site = await siteSettings(db, siteId)
  const setup = tried ?? proofSetupSchema.parse(measure.setup)
  const day = await installedOn(db, measure)
  const [rows, stored, counted, machine] = [
    await listDoneLogs(db, machineId),
    await listEvidence(db, machineId),
    await listProduction(db, machineId),
    await findMachine(db, machineId),
  ]
  const evidenceOf = new Map(stored.map(({ logId, evidence }) => [logId, evidence]))
  const piecesOf = new Map(counted.map(({ logId, pieces }) => [logId, pieces]))
  const logs: ProofLog[] = []
  let undated = 0
  let unknown = 0
  const choices = rows.map((row): ProofLogChoice => {
    const days = daysOf(row, site.timeZone)
    const side = days && sideOfLog(days, setup, day)
    const evidence = evidenceOf.get(row.id) ?? null
    const pieces = piecesOf.get(row.id) ?? null
    if (!days) undated++
    if (side && !evidence) unknown++
    if (side && evidence) logs.push({ logId: row.id, side, evidence, pieces })
    return {
      logId: row.id,
      fileName: row.fileName,
      startedAt: row.startedAt?.toISOString() ?? null,
      side,
      pieces,
      cycles: evidence?.cycles.energyJ.length ?? null,
    }
  })
  const warnings: ProofWarning[] = [
    ...(day === null && setup.comparison.from === null ? [warning('not-installed')] : []),
    ...(unknown > 0 ? [warning('logs-without-evidence', { count: unknown })] : []),
    ...(undated > 0 ? [warning('logs-without-date', { count: undated })] : []),
    ...(machine ? plateChanges(measure.machineThen, machine.config, optionId) : []),
    ...settingMoved(logs, optionId),
  ]
  // The year that counts is the one after the change.
  const from = (day ?? setup.comparison.from ?? localDay(new Date(), site.timeZone)).slice(
    0,
    'YYYY-MM'.length,
  )
  const year = {
    plannedHours: (machine && calendarYearHours(from, machine, site)) ?? site.plannedHoursPerYear,
    plannedHoursLimitShare: site.plannedHoursLimitShare,
  }
  // Replayed promises of before hours were kept with them stood for the site's hours.
  const promise = expected?.savedShare ? { plannedHours: site.plannedHoursPerYear, ...expected } : expected
  return { proof: prove({ logs, setup, expected: promise, year, warnings }), installedOn: day, logs: choices }
}
