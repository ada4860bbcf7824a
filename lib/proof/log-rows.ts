import type { ProofLogRow, ProofSetup } from '@/lib/contract/proof'
import { J_PER_KWH } from '@/lib/units'
import { type Baseline, expectedJ, fitBaseline } from './baseline'
import { cusum } from './cusum'
import type { Saving } from './saving'
import { systematicOf } from './systematic'
import type { ProofLog, Unit } from './units'

/** Fewer logs than this after a change tell nothing of whether it lasts. */
const LEAST_LASTING = 4

/** Each log's expected and actual energy in the order of time, with the running sum and the decision rule. */
export function logRows(
  logs: readonly ProofLog[],
  units: readonly Unit[],
  baseline: Baseline,
  { betweenJ2, unitJ2 }: Saving,
  { sameSensors, driver, adjustments }: Pick<ProofSetup, 'sameSensors' | 'driver' | 'adjustments'>,
): { rows: ProofLogRow[]; fades: boolean } {
  const known = logs
    .map((log, index) => {
      const own = units.filter((unit) => unit.log === index)
      const expected = own.reduce((sum, unit) => sum + expectedJ(baseline, unit), 0)
      const actual = own.reduce((sum, unit) => sum + unit.energyJ, 0)
      const { sensors, ofEachLog } = systematicOf(
        logs,
        own,
        own.map(() => 1),
        sameSensors,
      )
      const scatter = own.length * unitJ2 * baseline.inflation + own.length ** 2 * betweenJ2
      const sdJ = Math.sqrt(scatter + (sameSensors ? 0 : sensors) + ofEachLog)
      return { log, own, expected, actual, sdJ }
    })
    .filter(({ own }) => own.length > 0)
    .sort((a, b) => (a.log.evidence.startedAtMs ?? 0) - (b.log.evidence.startedAtMs ?? 0))
  const points = cusum(known.map(({ expected, actual, sdJ }) => ({ valueJ: actual - expected, sdJ })))
  const rows = known.map(({ log, own, expected, actual }, k): ProofLogRow => {
    const { startedAtMs } = log.evidence
    const { sumJ, above, below, alarm } = points[k]
    return {
      logId: log.logId,
      at: startedAtMs === null ? null : new Date(startedAtMs).toISOString(),
      side: log.side,
      units: own.length,
      expectedKWh: expected / J_PER_KWH,
      actualKWh: actual / J_PER_KWH,
      cusumKWh: sumJ / J_PER_KWH,
      above,
      below,
      alarm,
    }
  })
  const after = known.filter(({ log }) => log.side === 'comparison')
  return { rows, fades: fadesAfter(after, { driver, adjustments }) }
}

/**
 * Whether the saving gets smaller after it was first seen: the rule once more, on the later half of the logs against a model
 * of the machine as it was in the first half, so that another duty is none of it.
 */
function fadesAfter(
  after: readonly { readonly own: readonly Unit[]; readonly sdJ: number }[],
  setup: Pick<ProofSetup, 'driver' | 'adjustments'>,
): boolean {
  if (after.length < LEAST_LASTING) return false
  const half = Math.floor(after.length / 2)
  const rest = after.slice(half)
  const changed = fitBaseline(
    after.slice(0, half).flatMap(({ own }) => own),
    rest.flatMap(({ own }) => own),
    setup,
  )
  if (!changed) return false
  const differences = rest.map(({ own, sdJ }) => ({
    valueJ: own.reduce((sum, unit) => sum + unit.energyJ - expectedJ(changed, unit), 0),
    sdJ,
  }))
  return cusum(differences).some(({ alarm }) => alarm === 'worse')
}
