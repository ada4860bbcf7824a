import { Matrix } from 'ml-matrix'
import type { Step } from '@/lib/phases/stretch'
import { ACCOUNT_KEYS, type AccountSeries } from './account'
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
  series: AccountSeries,
  sampleIntervalS: number,
): Matrix {
  const out = Matrix.zeros(TOTALS_LENGTH, TOTALS_LENGTH)
  const varianceS2 = (EDGE_INTERVALS * sampleIntervalS) ** 2 + EDGE_S ** 2
  const powers = steps.map((step) =>
    ACCOUNT_KEYS.map((key) => {
      const middle = series[key].subarray(step.from, step.to)
      return middle[middle.length >> 1]
    }),
  )
  for (let k = 1; k < steps.length; k++) {
    if (steps[k].afterGap) continue
    const moved: [number, number][] = []
    ACCOUNT_KEYS.forEach((key, j) => {
      const before = kindIndex(steps[k - 1].kind, key)
      const after = kindIndex(steps[k].kind, key)
      if (before === after) moved.push([before, powers[k - 1][j] - powers[k][j]])
      else moved.push([before, powers[k - 1][j]], [after, -powers[k][j]])
    })
    for (const [a, wattA] of moved) {
      if (Number.isNaN(wattA)) continue
      for (const [b, wattB] of moved) {
        if (!Number.isNaN(wattB)) out.set(a, b, out.get(a, b) + varianceS2 * wattA * wattB)
      }
    }
  }
  return out
}
