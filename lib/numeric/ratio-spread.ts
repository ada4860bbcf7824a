/** Fewer units than this tell nothing of the spread between them. */
const LEAST_UNITS = 3

/**
 * Relative standard deviation of Σ amounts / Σ sizes from seeing only these units, in closed form: what a bootstrap
 * over the units tends to (ratio estimator, first order). Null with fewer than three units, nil where the sum is nil.
 */
export function ratioSpread(amounts: ArrayLike<number>, sizes: ArrayLike<number>): number | null {
  const units = amounts.length
  if (units < LEAST_UNITS) return null
  let amount = 0
  let size = 0
  for (let k = 0; k < units; k++) {
    amount += amounts[k]
    size += sizes[k]
  }
  if (amount === 0) return 0
  const rate = amount / size
  let squares = 0
  for (let k = 0; k < units; k++) squares += (amounts[k] - rate * sizes[k]) ** 2
  return Math.sqrt((squares * units) / (units - 1)) / Math.abs(amount)
}
