import type { Step } from '@/lib/phases/stretch'
import { ACCOUNT_KEYS, type AccountSeries, accountArrays } from './account-series'

/** Samples worked on at a time: few enough to stay in the processor's cache. */
export const BLOCK_SAMPLES = 4096

/**
 * Energies of the steps of a recording in J, one step after the other, each in the order of ACCOUNT_KEYS.
 * `fill` gives the powers of samples [from, to).
 */
export function stepEnergies(
  steps: readonly Pick<Step, 'from' | 'to'>[],
  fill: (from: number, to: number, into: AccountSeries) => void,
  holdS: Float64Array,
): Float64Array {
  const width = ACCOUNT_KEYS.length
  const energies = new Float64Array(steps.length * width)
  const block = accountArrays(BLOCK_SAMPLES)
  const columns = ACCOUNT_KEYS.map((key) => block[key])
  if (steps.length === 0) return energies
  const endOfLast = steps[steps.length - 1].to
  let step = 0
  for (let from = steps[0].from; from < endOfLast; from += BLOCK_SAMPLES) {
    const to = Math.min(from + BLOCK_SAMPLES, endOfLast)
    fill(from, to, block)
    for (let begin = from; begin < to; ) {
      while (steps[step].to <= begin) step++
      const end = Math.min(to, steps[step].to)
      for (let key = 0; key < width; key++) {
        const power = columns[key]
        let sum = 0
        for (let i = begin; i < end; i++) sum += power[i - from] * holdS[i]
        energies[step * width + key] += sum
      }
      begin = end
    }
  }
  return energies
}
