import type { Matrix } from 'ml-matrix'
import { PARAMETERS, type ParameterValues } from './parameters'

/** 95 % of a normal distribution lies within this many standard deviations. */
export const COVERAGE = 1.96

/** How a vector of results answers to each parameter, and the parameters' covariance. */
export interface Sensitivity {
  /** Row k: change of every result per unit of parameter k. */
  readonly rows: readonly Float64Array[]
  readonly covariance: Matrix
}

/**
 * Slopes of `results` by central differences of half a standard deviation either way, wide enough to see past the
 * corners of the models (JCGM 100:2008, 5.1.3 note 2).
 */
export function sensitivity(
  results: (values: ParameterValues) => Float64Array,
  values: ParameterValues,
  covariance: Matrix,
): Sensitivity {
  const length = results(values).length
  const rows = PARAMETERS.map((_, k) => {
    const sd = Math.sqrt(Math.max(0, covariance.get(k, k)))
    const row = new Float64Array(length)
    if (sd === 0) return row
    const up = Float64Array.from(values)
    const down = Float64Array.from(values)
    up[k] += sd / 2
    down[k] -= sd / 2
    const high = results(up)
    const low = results(down)
    for (let i = 0; i < length; i++) row[i] = (high[i] - low[i]) / sd
    return row
  })
  return { rows, covariance }
}

/** Standard deviation of the sum of results weighed by `weights` (index → factor). */
export function sdOfSum(sensitivityOf: Sensitivity, weights: ReadonlyMap<number, number>): number {
  const slopes = sensitivityOf.rows.map((row) => {
    let sum = 0
    for (const [index, weight] of weights) sum += weight * row[index]
    return Number.isNaN(sum) ? 0 : sum
  })
  let variance = 0
  for (let a = 0; a < slopes.length; a++) {
    for (let b = 0; b < slopes.length; b++) {
      variance += slopes[a] * slopes[b] * sensitivityOf.covariance.get(a, b)
    }
  }
  return Math.sqrt(Math.max(0, variance))
}
