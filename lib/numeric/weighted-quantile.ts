/**
 * Smallest value at which the summed weight reaches `share` of the whole; NaN without weight.
 * Values and weights have the same length.
 */
export function weightedQuantile(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  share: number,
): number {
  const order = Array.from({ length: values.length }, (_, i) => i)
    .filter((i) => weights[i] > 0 && !Number.isNaN(values[i]))
    .sort((a, b) => values[a] - values[b])
  let total = 0
  for (const i of order) total += weights[i]
  let sum = 0
  for (const i of order) {
    sum += weights[i]
    if (sum >= share * total) return values[i]
  }
  return Number.NaN
}
