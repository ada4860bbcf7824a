import type { Analysis } from '@/lib/contract/result'
import type { Cycle } from '@/lib/phases/cycles'
import { readerOf } from '@/lib/samples/samples'
import { J_PER_KWH } from '@/lib/units'
import { basisOf, estimate, ledgerKWh } from './estimates'
import { electricOfStepJ, type Ledger } from './ledger'
import { COVERAGE } from './propagate'

/** Energy of every cycle, J: `energyJ` gives that of a step, by its index. */
export function energyInCycles(
  { trace, segmentation }: Pick<Ledger, 'trace' | 'segmentation'>,
  cycles: readonly Cycle[],
  energyJ: (step: number) => number,
): Float64Array {
  const energies = new Float64Array(cycles.length)
  const timeS = readerOf(trace.timeS)
  let k = 0
  segmentation.steps.forEach((step, index) => {
    const startS = timeS.at(step.from)
    while (k < cycles.length && startS >= cycles[k].endS - 1e-9) k++
    if (k < cycles.length && startS >= cycles[k].startS - 1e-9) energies[k] += energyJ(index)
  })
  return energies
}

/** Count, length, spread and electric energy of the cycles; the interval holds the sensors' share and the spread between cycles. */
export function cycleFigures(ledger: Ledger, cycles: readonly Cycle[]): Analysis['cycles'] {
  const count = cycles.length
  if (count === 0) return { count, meanS: null, spreadS: null, kWhPerCycle: null }
  const energies = energyInCycles(ledger, cycles, (step) => electricOfStepJ(ledger, step))
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
