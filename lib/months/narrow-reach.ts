import { runningHoursOf } from './kind-table'
import { type IntervalBasis, type MonthReach, reachOfMonth } from './month-intervals'
import type { NarrowMonth } from './narrow-month'

/** How sure a figure is, by its place in FIGURES, or all separable waste; null where not separable. */
export function reachAt(
  of: NarrowMonth,
  at: number,
  kWh: number | null,
  limits: IntervalBasis,
): MonthReach | null {
  const { days, meanHours, reach, dayVariance } = of
  // Without it the logs were rolled up by an earlier engine and are about to be again: not known, not exact.
  if (!reach || kWh === null) return null
  const runningHours = runningHoursOf(of.table)
  const dayVarianceAt = dayVariance ? dayVariance[at] : null
  return reachOfMonth(
    { kWh, runningHours, reach: reach[at], days, meanHours, dayVariance: dayVarianceAt },
    limits,
  )
}
