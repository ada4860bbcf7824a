import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { Ledger } from '@/lib/ledger/ledger'
import { PARAMETERS, priorSd } from '@/lib/ledger/parameters'
import { BENDING, COVERAGE, ownVariance, reachOfSum } from '@/lib/ledger/propagate'
import { kindIndex } from '@/lib/ledger/totals'
import type { Doubt, LogEvidence } from './evidence'

/** Effects below this share of the electric input are left to what is the log's own. */
const LEAST_SHARE = 1e-5

const indexOf = (kind: PhaseKind) => kindIndex(kind, 'electricIn')

/**
 * Splits the doubt of a log's electric input by where it comes from. The fit's error is linear in how far each quantity
 * really is from where it was taken to be: with posterior covariance C and prior deviation s, quantity k moves the input
 * (slopes g) by (g'C)ₖ/sₖ for each of its prior deviations, and what the readings themselves add is left over
 * (Kalman's gain, I − KH = C·P₀⁻¹). Quantities in which results bend count as the log's own.
 */
export function doubtsOf(ledger: Ledger): Pick<LogEvidence, 'doubts' | 'ownSdJ'> {
  const { sensitivity, sensors, plate, totals } = ledger
  const { rows, covariance } = sensitivity
  const prior = priorSd(sensors, plate)
  const inputJ = PHASE_KINDS.reduce((sum, kind) => sum + totals[indexOf(kind)], 0)
  const doubts: Doubt[] = []
  let told = 0
  PARAMETERS.forEach((source, k) => {
    if (!(prior[k] > 0) || BENDING.includes(k)) return
    const byKindJ: Partial<Record<PhaseKind, number>> = {}
    let sum = 0
    for (const kind of PHASE_KINDS) {
      let withKind = 0
      for (let l = 0; l < rows.length; l++) withKind += rows[l][indexOf(kind)] * covariance.get(l, k)
      const effectJ = withKind / prior[k]
      if (!effectJ) continue
      byKindJ[kind] = effectJ
      sum += effectJ
    }
    const largest = Math.max(0, ...Object.values(byKindJ).map(Math.abs))
    if (largest < LEAST_SHARE * inputJ) return
    told += sum ** 2
    doubts.push({ source, of: source.endsWith('Offset') ? 'sensor' : 'model', byKindJ })
  })
  const weights = new Map(PHASE_KINDS.map((kind) => [indexOf(kind), 1]))
  const { below, above } = reachOfSum(sensitivity, weights)
  const whole = (below ** 2 + above ** 2) / 2 / COVERAGE ** 2
  // Where steps begin differs from cycle to cycle: the scatter of cycles, or of logs, holds it already.
  const edges = sensitivity.own
    .filter(({ source }) => source === 'edges')
    .reduce((sum, own) => sum + ownVariance(own, weights), 0)
  return { doubts, ownSdJ: Math.sqrt(Math.max(0, whole - told - edges)) }
}
