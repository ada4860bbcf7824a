import { FEW_CYCLES_SHARE_SD } from '@/lib/ledger/over-year'
import { COVERAGE, ownVariance } from '@/lib/ledger/propagate'
import type { Replayed } from './replay'

/** Covariance of two replayed shares by the sensors and models that both rest on. */
function covarianceOfShares({ grounds: a }: Replayed, { grounds: b }: Replayed): number {
  const { rows, covariance, reliefEnds, own, doubts } = a.sensitivity
  const slopes = ({ index }: typeof a) => rows.map((row) => (Number.isNaN(row[index]) ? 0 : row[index]))
  const [ofA, ofB] = [slopes(a), slopes(b)]
  let sum = 0
  for (let k = 0; k < rows.length; k++) {
    if (ofA[k] === 0) continue
    for (let l = 0; l < rows.length; l++) sum += ofA[k] * covariance.get(k, l) * ofB[l]
  }
  for (const [low, high] of reliefEnds) {
    const perSd = ({ index }: typeof a) => (high[index] - low[index]) / (2 * COVERAGE) || 0
    sum += perSd(a) * perSd(b)
  }
  for (const { change } of doubts) {
    // One thing or the other: as far to one side as two standard deviations to both.
    const perSd = ({ index }: typeof a) => change[index] / (2 * COVERAGE) || 0
    sum += perSd(a) * perSd(b)
  }
  for (const one of own) {
    const variance = (...of: number[]) => ownVariance(one, new Map(of.map((index) => [index, 1])))
    if (a.index === b.index) sum += variance(a.index)
    else sum += (variance(a.index, b.index) - variance(a.index) - variance(b.index)) / 2
  }
  return sum
}

/** What seeing only these cycles leaves in doubt, as a share of the input (1 sd). */
const samplingSd = ({ samplingShareSd, savedShare }: Replayed) =>
  (samplingShareSd ?? FEW_CYCLES_SHARE_SD) * savedShare

/**
 * How far another option's saved share goes along where this one's is moved: their covariance over this one's
 * variance. Both rest on the same sensors, models and cycles; only the misfit of a replay is each one's own. Nil where
 * this saving is in no doubt.
 */
export function movedAlong(one: Replayed, other: Replayed): number {
  const shared = covarianceOfShares(one, other) + samplingSd(one) * samplingSd(other)
  const { replaySd, optionSd } = one.grounds
  const variance = covarianceOfShares(one, one) + samplingSd(one) ** 2 + replaySd ** 2 + optionSd ** 2
  return variance > 0 ? shared / variance : 0
}
