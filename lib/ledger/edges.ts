import { Matrix } from 'ml-matrix'
import type { Step } from '@/lib/phases/stretch'
import { ACCOUNT_KEYS } from './account-series'
import type { Streams } from './operating-point'
import { kindIndex, TOTALS_LENGTH } from './totals'

/** Where between two samples a step really began, as a share of the interval (1 sd; a uniform one's is 1/√12). */
const EDGE_INTERVALS = 0.3
/** Sensors lag behind each other by about this much, s (1 sd; common practice, no source). */
const LAG_S = 0.09
/** The meter's own readings: a lag books them to the wrong side of an edge, and loses none. */
const ELECTRIC: readonly (keyof Streams)[] = ['electricIn', 'motorLoss']

/**
 * Covariance of the totals that comes from not knowing where between two samples a step began, and from sensors
 * that lag behind each other: oil is booked at the wrong pressure, input to the wrong kind. TOTALS_LENGTH squared, J².
 */
export function edgeCovariance(
  steps: readonly Step[],
  energiesJ: Float64Array,
  sampleIntervalS: number,
): Matrix {
  const width = ACCOUNT_KEYS.length
  const sums = new Float64Array(TOTALS_LENGTH * TOTALS_LENGTH)
  const places = new Int32Array(2 * width)
  const sampled = new Float64Array(2 * width)
  const lagged = new Float64Array(2 * width)
  const meanW = (step: number, key: number) => {
    const { durationS } = steps[step]
    const power = durationS > 0 ? energiesJ[step * width + key] / durationS : 0
    return Number.isNaN(power) ? 0 : power
  }
  const add = (varianceS2: number, watts: Float64Array) => {
    for (let a = 0; a < places.length; a++) {
      if (watts[a] === 0) continue
      const row = places[a] * TOTALS_LENGTH
      for (let b = 0; b < places.length; b++) sums[row + places[b]] += varianceS2 * watts[a] * watts[b]
    }
  }
  for (let k = 1; k < steps.length; k++) {
    if (steps[k].afterGap) continue
    const before = kindIndex(steps[k - 1].kind, ACCOUNT_KEYS[0])
    const after = kindIndex(steps[k].kind, ACCOUNT_KEYS[0])
    for (let key = 0; key < width; key++) {
      const beforeW = meanW(k - 1, key)
      const afterW = meanW(k, key)
      const bookedW = ELECTRIC.includes(ACCOUNT_KEYS[key]) ? (beforeW + afterW) / 2 : Number.NaN
      places[key] = before + key
      places[width + key] = after + key
      sampled[key] = beforeW
      sampled[width + key] = -afterW
      lagged[key] = Number.isNaN(bookedW) ? beforeW : bookedW
      lagged[width + key] = Number.isNaN(bookedW) ? -afterW : -bookedW
    }
    add((EDGE_INTERVALS * sampleIntervalS) ** 2, sampled)
    add(LAG_S ** 2, lagged)
  }
  return Matrix.from1DArray(TOTALS_LENGTH, TOTALS_LENGTH, Array.from(sums))
}
