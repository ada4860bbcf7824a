import { S_PER_HOUR } from '@/lib/units'
import type { Length } from './length'

/** What is to be covered at least once each. */
export interface Clusters {
  readonly shifts: number
  readonly products: number
}

/** How the running time is spread: one visit is one shift with one product on one day. */
export interface Visits {
  readonly count: number
  /** Running time logged in each, s. */
  readonly eachS: number
  readonly totalS: number
  /** What decided their number. */
  readonly decidedBy: 'clusters' | 'days' | 'length'
}

export const SHIFT_S = 8 * S_PER_HOUR
/** Under an hour a visit shows a few cycles of one mood (common practice, no source). */
const LEAST_VISIT_S = S_PER_HOUR

/** Visits for a length: every shift with every product once, on as many days as asked, none longer than a shift. */
export function visitsFor({ runningS, days }: Length, { shifts, products }: Clusters): Visits | null {
  if (runningS === null || days === null) return null
  const clusters = shifts * products
  const byLength = Math.ceil(runningS / SHIFT_S)
  const count = Math.max(clusters, days, byLength)
  const eachS = Math.max(LEAST_VISIT_S, runningS / count)
  const decidedBy = count === clusters ? 'clusters' : count === days ? 'days' : 'length'
  return { count, eachS, totalS: count * eachS, decidedBy }
}

/** Hours a year of one shift: 8 h on 250 days (common practice, no source). */
const SHIFT_HOURS_PER_YEAR = 2000
const MOST_SHIFTS = 3

/** Shifts that the planned hours of a year stand for. */
export const shiftsOf = (plannedHoursPerYear: number) =>
  Math.min(MOST_SHIFTS, Math.max(1, Math.round(plannedHoursPerYear / SHIFT_HOURS_PER_YEAR)))
