/**
 * Value at `x` on straight lines between points that rise in x; beyond the ends the end lines go on.
 * Needs two points at least.
 */
export function interpolate(xs: Float64Array, ys: Float64Array, x: number): number {
  let low = 0
  let high = xs.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (xs[middle] <= x) low = middle
    else high = middle
  }
  return ys[low] + ((x - xs[low]) / (xs[high] - xs[low])) * (ys[high] - ys[low])
}
