import { byName } from '@/app/_ui/name-order'
import type { Database } from '@/db/client'
import { listDoneLogs } from '@/db/queries/logs'
import { findMachine, listMachineNames } from '@/db/queries/machines'
import { findMeasure, listMeasures } from '@/db/queries/measures'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import type { Site } from '@/lib/contract/site'
import { measureAnswer, measureSummary, proofAnswer } from '../measure-answer'
import type { MeasureAnswer, MeasureSummary, ProofAnswer, TrialAnswer } from '../measure-shapes'
import { type ProofLogChoice, proveMeasure } from '../prove-measure'
import { trialAnswers } from '../trial-answer'

export interface MeasuresView {
  readonly measures: readonly MeasureSummary[]
  readonly machines: readonly { readonly id: string; readonly name: string }[]
}

/** All measures with what they promised and, once verified, what was proven. */
export async function measuresView(db: Database): Promise<MeasuresView> {
  const machines = await listMachineNames(db, DEFAULT_SITE_ID)
  return {
    measures: (await listMeasures(db)).map(measureSummary),
    machines: byName(machines).map(({ id, name }) => ({ id, name })),
  }
}

export interface MeasureView {
  readonly measure: MeasureAnswer
  readonly site: Site
  readonly installedOn: string | null
  readonly proof: ProofAnswer
  readonly logs: readonly ProofLogChoice[]
  readonly trials: readonly TrialAnswer[]
}

/** One measure with its proof as the logs stand now. */
export async function measureView(db: Database, id: string): Promise<MeasureView | null> {
  const row = id.includes('\0') ? null : await findMeasure(db, id)
  if (!row) return null
  const { proof, installedOn, logs } = await proveMeasure(db, row)
  return {
    measure: await measureAnswer(db, row),
    site: await siteSettings(db, row.siteId),
    installedOn,
    proof: proofAnswer(proof),
    logs,
    trials: await trialAnswers(db, row.machineId, ({ measureId }) => measureId === id),
  }
}

export interface TrialsView {
  readonly machineName: string
  readonly fileName: string
  readonly startedAt: string | null
  readonly durationS: number
  readonly timeZone: string
  readonly trials: readonly TrialAnswer[]
  /** Measures of the machine that a trial may speak for. */
  readonly measures: readonly { readonly id: string; readonly title: string }[]
}

/** The trials of one log; null where there is no such stored log. */
export async function trialsView(db: Database, machineId: string, logId: string): Promise<TrialsView | null> {
  const machine = await findMachine(db, machineId)
  const log = (await listDoneLogs(db, machineId)).find(({ id }) => id === logId)
  if (!machine || !log) return null
  const { timeZone } = await siteSettings(db, machine.siteId)
  const measures = (await listMeasures(db, { machineId })).map(measureSummary)
  return {
    machineName: machine.name,
    fileName: log.fileName,
    startedAt: log.startedAt?.toISOString() ?? null,
    durationS: log.durationS ?? 0,
    timeZone,
    trials: await trialAnswers(db, machineId, (row) => row.logId === logId),
    measures: measures.map(({ id, title }) => ({ id, title })),
  }
}
