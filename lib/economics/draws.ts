import { sortedQuantile } from '@/lib/numeric/quantile'
import { normal, type Random, triangular } from '@/lib/numeric/random'

/** Standard deviations from the centre of a normal distribution to either end of its 95 % interval. */
const SIGMAS_TO_95 = 1.959963985
export const LOW_SHARE = 0.025
export const HIGH_SHARE = 0.975

export type Triangle = readonly [low: number, likely: number, high: number]
export interface Interval {
  readonly value: number
  readonly low: number
  readonly high: number
}

/**
 * Draws of everything that money hangs on, each by itself: half-widths of 95 % intervals (±1 at their ends) or
 * uniform numbers. All options are appraised with the same draws, so that they differ only in themselves.
 */
export interface StandardDraws {
  readonly count: number
  readonly saving: Float64Array
  readonly hours: Float64Array
  readonly price: Float64Array
  readonly investment: Float64Array
  readonly maintenance: Float64Array
}

export function standardDraws(random: Random, count = 2000): StandardDraws {
  const halfWidths = () => Float64Array.from({ length: count }, () => normal(random) / SIGMAS_TO_95)
  const uniform = () => Float64Array.from({ length: count }, () => random())
  return {
    count,
    saving: halfWidths(),
    hours: halfWidths(),
    price: halfWidths(),
    investment: uniform(),
    maintenance: uniform(),
  }
}

/** A draw from a normal distribution split at the value, with the interval's two half-widths. */
export const splitAt = ({ value, low, high }: Interval, halfWidths: number) =>
  value + halfWidths * (halfWidths < 0 ? value - low : high - value)

/** The value of a triangle below which it lies with this probability. */
export const triangleAt = ([low, likely, high]: Triangle, probability: number) =>
  triangular(() => probability, low, likely, high)

/**
 * A value with the 95 % interval of its draws, or null where that has an end at infinity. The value is kept inside:
 * a triangle's likely value may be its end, outside the quantiles. Sorts the draws in place.
 */
export function drawnInterval(value: number, drawn: Float64Array): Interval | null {
  drawn.sort()
  const low = Math.min(value, sortedQuantile(drawn, LOW_SHARE))
  const high = Math.max(value, sortedQuantile(drawn, HIGH_SHARE))
  return Number.isFinite(low) && Number.isFinite(high) ? { value, low, high } : null
}
