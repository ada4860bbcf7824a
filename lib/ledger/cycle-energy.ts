import type { Analysis } from '@/lib/contract/result'
import type { Cycle } from '@/lib/phases/cycles'
import { J_PER_KWH } from '@/lib/units'
import { basisOf, estimate, ledgerKWh } from './estimates'
import { electricOfStepJ, type Ledger } from './ledger'
import { COVERAGE } from './propagate'

/** Count, length, spread and electric energy of the cycles; the interval holds the sensors' share and the spread between cycles. */
export function cycleFigures(ledger: Ledger, cycles: readonly Cycle[]): Analysis['cycles'] {
  const count = cycles.length
  if (count === 0) return { count, meanS: null, spreadS: null, kWhPerCycle: null }
  const { timeS } = ledger.trace
  const energies = new Float64Array(count)
  let k = 0
  ledger.segmentation.steps.forEach((step, index) => {
    const startS = timeS[step.from]
    while (k < count && startS >= cycles[k].endS - 1e-9) k++
    if (k < count && startS >= cycles[k].startS - 1e-9) energies[k] += electricOfStepJ(ledger, index)
  })
  const lengths = cycles.map((cycle) => cycle.endS - cycle.startS)
  const meanOf = (values: ArrayLike<number>) =>
    Array.from(values).reduce((sum, value) => sum + value, 0) / values.length
  const sdOf = (values: ArrayLike<number>) => {
    const mean = meanOf(values)
    const squares = Array.from(values).reduce((sum, value) => sum + (value - mean) ** 2, 0)
    return values.length > 1 ? Math.sqrt(squares / (values.length - 1)) : 0
  }
  const whole = ledgerKWh(ledger).electricIn
  const systematic = whole.value > 0 ? (whole.high - whole.value) / COVERAGE / whole.value : 0
  const mean = meanOf(energies) / J_PER_KWH
  const sampling = sdOf(energies) / Math.sqrt(count) / J_PER_KWH
  return {
    count,
    meanS: meanOf(lengths),
    spreadS: count > 1 ? sdOf(lengths) : null,
    kWhPerCycle: estimate(mean, Math.hypot(systematic * mean, sampling), basisOf(ledger, 'electricIn')),
  }
}
