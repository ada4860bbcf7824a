/** Sums that differ by no more than this share differ by rounding. */
const ROUNDING = 1e-12

/** Place of the first of `count` rising values that is not below `value`. */
function firstNotBelow(rising: Float64Array, count: number, value: number): number {
  let low = 0
  let high = count
  while (low < high) {
    const middle = (low + high) >> 1
    if (rising[middle] < value) low = middle + 1
    else high = middle
  }
  return low
}

/**
 * Smallest value at which the summed weight reaches `share` of the whole; NaN without weight.
 * Values and weights have the same length.
 */
export function weightedQuantile(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  share: number,
): number {
  const counts = (i: number) => weights[i] > 0 && !Number.isNaN(values[i])
  const rising = new Float64Array(values.length)
  let count = 0
  for (let i = 0; i < values.length; i++) if (counts(i)) rising[count++] = values[i]
  if (count === 0) return Number.NaN
  // Numbers alone are sorted many times quicker than places by a comparison; each weight then finds its place.
  const sorted = rising.subarray(0, count).sort()
  const weightAt = new Float64Array(count)
  for (let i = 0; i < values.length; i++) {
    if (counts(i)) weightAt[firstNotBelow(sorted, count, values[i])] += weights[i]
  }
  let total = 0
  for (let k = 0; k < count; k++) total += weightAt[k]
  let sum = 0
  for (let k = 0; k < count; k++) {
    sum += weightAt[k]
    if (weightAt[k] > 0 && sum >= (1 - ROUNDING) * share * total) return sorted[k]
  }
  return sorted[count - 1]
}
