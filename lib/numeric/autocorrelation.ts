/** Above this lag-one correlation the count of independent values means little. */
const HIGHEST = 0.95

/**
 * Correlation of neighbours (lag one) in stretches of values that follow each other, all around one mean; nil where
 * nothing varies or nothing follows.
 */
export function lagOne(stretches: readonly (readonly number[])[]): number {
  const all = stretches.flat()
  const mean = all.reduce((sum, value) => sum + value, 0) / all.length
  let products = 0
  let squares = 0
  for (const values of stretches) {
    values.forEach((value, i) => {
      squares += (value - mean) ** 2
      if (i > 0) products += (value - mean) * (values[i - 1] - mean)
    })
  }
  return squares > 0 ? products / squares : 0
}

/**
 * How many independent values tell as much of a mean as `count` values whose neighbours correlate: n·(1 − ρ)/(1 + ρ), as
 * ASHRAE Guideline 14 has it (from memory). A negative correlation is taken for none.
 */
export function effectiveCount(count: number, lag1: number): number {
  const rho = Math.min(HIGHEST, Math.max(0, lag1))
  return (count * (1 - rho)) / (1 + rho)
}
