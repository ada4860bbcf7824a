import type { Ledger } from './ledger'
import { PARAMETERS, type ParameterValues } from './parameters'

/**
 * Standard deviations of figures that follow from the parameters, by central differences of one standard
 * deviation either way (JCGM 100:2008, 5.1.3). `figures` returns the same number of figures each time.
 */
export function spreadOf(
  { values, covariance }: Pick<Ledger, 'values' | 'covariance'>,
  figures: (values: ParameterValues) => readonly number[],
): number[] {
  const slopes = PARAMETERS.map((_, k) => {
    const sd = Math.sqrt(Math.max(0, covariance.get(k, k)))
    if (sd === 0) return null
    const moved = (sign: number) => {
      const at = Float64Array.from(values)
      at[k] += sign * sd
      return figures(at)
    }
    const down = moved(-1)
    return moved(1).map((up, i) => (up - down[i]) / (2 * sd))
  })
  return figures(values).map((_, i) => {
    let variance = 0
    slopes.forEach((row, a) => {
      if (!row) return
      slopes.forEach((column, b) => {
        if (column) variance += row[i] * column[i] * covariance.get(a, b)
      })
    })
    return Math.sqrt(Math.max(0, variance))
  })
}
