import { Matrix } from 'ml-matrix'
import type { Step } from '@/lib/phases/stretch'
import { ACCOUNT_KEYS } from './account-series'
import { kindIndex, TOTALS_LENGTH } from './totals'

/** Where between two samples a step really began: one standard deviation, as a share of the interval and in s. */
const EDGE_INTERVALS = 0.5
const EDGE_S = 0.08

/**
 * Covariance of the totals that comes from not knowing where between two samples a step began: what one
 * side gains the other loses. TOTALS_LENGTH squared, J².
 */
export function edgeCovariance(
  steps: readonly Step[],
  energiesJ: Float64Array,
  sampleIntervalS: number,
): Matrix {
  const varianceS2 = (EDGE_INTERVALS * sampleIntervalS) ** 2 + EDGE_S ** 2
  const width = ACCOUNT_KEYS.length
  const sums = new Float64Array(TOTALS_LENGTH * TOTALS_LENGTH)
  const places = new Int32Array(2 * width)
  const watts = new Float64Array(2 * width)
  const meanW = (step: number, key: number) => {
    const { durationS } = steps[step]
    const power = durationS > 0 ? energiesJ[step * width + key] / durationS : 0
    return Number.isNaN(power) ? 0 : power
  }
  for (let k = 1; k < steps.length; k++) {
    if (steps[k].afterGap) continue
    const before = kindIndex(steps[k - 1].kind, ACCOUNT_KEYS[0])
    const after = kindIndex(steps[k].kind, ACCOUNT_KEYS[0])
    const moved = before === after ? width : 2 * width
    for (let key = 0; key < width; key++) {
      const gained = meanW(k - 1, key)
      const lost = meanW(k, key)
      places[key] = before + key
      places[width + key] = after + key
      watts[key] = before === after ? gained - lost : gained
      watts[width + key] = -lost
    }
    for (let a = 0; a < moved; a++) {
      const row = places[a] * TOTALS_LENGTH
      for (let b = 0; b < moved; b++) sums[row + places[b]] += varianceS2 * watts[a] * watts[b]
    }
  }
  return Matrix.from1DArray(TOTALS_LENGTH, TOTALS_LENGTH, Array.from(sums))
}
