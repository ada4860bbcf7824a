import { type Signal, valueAt } from './signal'

/**
 * Quantile of values in any order, type 7 (linear between order statistics, as numpy's default).
 * NaN where there are no values.
 */
export function quantile(values: ArrayLike<number>, share: number): number {
  return sortedQuantile(Float64Array.from(values).sort(), share)
}

function quantiles(values: ArrayLike<number>, shares: readonly number[]): number[] {
  const sorted = Float64Array.from(values).sort()
  return shares.map((share) => sortedQuantile(sorted, share))
}

const LARGEST_SAMPLE = 20_000

/** Several quantiles of a signal without its missing readings, of at most some 20,000 evenly spread ones. */
export function signalQuantiles(values: Signal, shares: readonly number[]): number[] {
  const stride = Math.max(1, Math.floor(values.length / LARGEST_SAMPLE))
  const present: number[] = []
  for (let i = 0; i < values.length; i += stride) {
    const value = valueAt(values, i)
    if (!Number.isNaN(value)) present.push(value)
  }
  return quantiles(present, shares)
}

/** The same of values that rise. */
export function sortedQuantile(sorted: Float64Array, share: number): number {
  if (sorted.length === 0) return Number.NaN
  const at = Math.min(Math.max(share, 0), 1) * (sorted.length - 1)
  const low = Math.floor(at)
  const next = Math.min(low + 1, sorted.length - 1)
  return sorted[low] + (at - low) * (sorted[next] - sorted[low])
}
