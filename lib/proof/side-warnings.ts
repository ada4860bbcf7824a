import type { Basis } from '@/lib/contract/estimate'
import type { BaselineModel, Driver, ProofLogRow } from '@/lib/contract/proof'
import { S_PER_HOUR } from '@/lib/units'
import { loggingChanged, sensorChanges } from './setup-changes'
import type { ProofLog, Unit } from './units'
import { type ProofWarning, warning } from './warning'

/** Cycles that a side should have at least (common practice, no source). */
const FEW_CYCLES = 10
/** A baseline that ended longer ago than this is old: much else may have changed (common practice, no source). */
const OLD_DAYS = 365
const MS_PER_DAY = 24 * S_PER_HOUR * 1000
/** ASHRAE Guideline 14's limit for hourly models, the nearest that it has to a cycle's or a log's. */
const LOOSEST_CVRMSE = 0.3

/** What the two sets of logs say before anything is fitted. */
export function sideWarnings(
  logs: readonly ProofLog[],
  before: readonly Unit[],
  after: readonly Unit[],
  driver: Driver,
): ProofWarning[] {
  const found: ProofWarning[] = []
  for (const [side, units] of [
    ['baseline', before],
    ['comparison', after],
  ] as const) {
    if (driver === 'cycles' && units.length < FEW_CYCLES)
      found.push(warning('few-cycles', { side, count: units.length, wanted: FEW_CYCLES }))
    if (new Set(units.map(({ log }) => log)).size === 1) found.push(warning('one-log', { side }))
    if (driver === 'production') {
      const uncounted = logs.filter((log) => log.side === side && log.pieces === null).length
      if (uncounted > 0) found.push(warning('pieces-missing', { side, count: uncounted }))
    }
  }
  const times = (side: ProofLog['side']) =>
    logs.flatMap(({ side: own, evidence }) =>
      own === side && evidence.startedAtMs !== null ? [evidence.startedAtMs] : [],
    )
  const [old, fresh] = [times('baseline'), times('comparison')]
  if (old.length > 0 && fresh.length > 0) {
    const days = Math.floor((Math.max(...fresh) - Math.max(...old)) / MS_PER_DAY)
    if (days > OLD_DAYS) found.push(warning('baseline-old', { days }))
  }
  return [...found, ...sensorChanges(logs), ...loggingChanged(logs)]
}

/** What the fitted model and the run of the logs say of themselves. */
export function stateWarnings(
  { cvRmse }: BaselineModel,
  rows: readonly ProofLogRow[],
  fades: boolean,
  basis: Basis,
): ProofWarning[] {
  const found: ProofWarning[] = []
  if (cvRmse > LOOSEST_CVRMSE) found.push(warning('model-loose', { cvRmse }))
  if (rows.some(({ side, alarm }) => side === 'baseline' && alarm !== null))
    found.push(warning('baseline-not-steady'))
  if (fades) found.push(warning('saving-fades'))
  if (basis !== 'measured') found.push(warning('input-not-measured', { basis }))
  return found
}
