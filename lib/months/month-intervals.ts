import { FEW_CYCLES_SHARE_SD } from '@/lib/ledger/over-year'
import { studentFactor } from '@/lib/numeric/student-t'
import { FIGURES, type Figure } from './figures'
import { runningHoursOf, unloggedFactor } from './month'
import { COVERAGE, reachOf, weighedVariance } from './month-spread'
import type { Reach } from './reach'
import type { MonthSummary } from './summary'
import { WASTE_KINDS } from './waste'

/** Reaches of a month's measured part, of its scaled part and of the whole; null where the figure is not separable. */
export interface MonthReach {
  readonly measured: Reach
  readonly scaled: Reach | null
  readonly whole: Reach | null
  /** What the scaled part's interval is made of, 95 %, kWh: rates as measured, days unlike one another, hours planned. */
  readonly scaledParts: { readonly rates: number; readonly days: number; readonly hours: number } | null
}

/** Of an interval. */
const LEVEL = 0.95

export interface IntervalBasis {
  readonly plannedHours: number
  /** How far the hours may be from the planned ones, 95 %, as a share. */
  readonly plannedHoursLimitShare: number
}

/**
 * Intervals of a weighed sum of figures of one machine's month. What the unlogged hours would have shown differs from
 * what the logged ones did as days differ (two samples of days of one kind, by Student's t on the days logged); with
 * a single day by a stated share. The planned hours' own doubt comes on top.
 * @param weights in the order of FIGURES
 */
export function monthReach(
  summary: MonthSummary,
  weights: readonly number[],
  basis: IntervalBasis,
): MonthReach {
  const { spread, kinds, daySpread } = summary
  const measured = spread ? reachOf(spread, weights) : { below: 0, above: 0 }
  const hours = runningHoursOf(kinds)
  if (hours === 0) return { measured, scaled: null, whole: null, scaledParts: null }
  const factor = unloggedFactor(kinds, basis.plannedHours)
  const kWh = FIGURES.reduce(
    (sum, _, k) => sum + weights[k] * kinds.reduce((total, one) => total + (one.kWh[k] ?? 0), 0),
    0,
  )
  const unloggedHours = factor * hours
  const days = unloggedHours * dayReachPerHour(summary, weights, unloggedHours, kWh / hours)
  const planned = (basis.plannedHoursLimitShare * basis.plannedHours * Math.abs(kWh)) / hours
  const doubt = unloggedHours > 0 ? Math.hypot(days, planned) : 0
  const side = (reach: number, times: number) => Math.hypot(reach * times, doubt)
  return {
    measured,
    scaled: { below: side(measured.below, factor), above: side(measured.above, factor) },
    whole: { below: side(measured.below, 1 + factor), above: side(measured.above, 1 + factor) },
    scaledParts: {
      rates: (factor * (measured.below + measured.above)) / 2,
      days: daySpread.days > 0 ? days : 0,
      hours: unloggedHours > 0 ? planned : 0,
    },
  }
}

/** 95 % half-width of a rate over unlogged hours beside that over logged ones, kWh/h. */
function dayReachPerHour(
  { daySpread }: MonthSummary,
  weights: readonly number[],
  unloggedHours: number,
  rate: number,
): number {
  const { days, meanHours, covariance } = daySpread
  if (covariance === null) return COVERAGE * FEW_CYCLES_SHARE_SD * Math.abs(rate)
  const variance = weighedVariance(covariance, weights)
  const unloggedDays = Math.max(1, unloggedHours / meanHours)
  return studentFactor(LEVEL, days - 1) * Math.sqrt(Math.max(0, variance) * (1 / days + 1 / unloggedDays))
}

/** The weights that pick one figure. */
export const weightsOf = (figure: Figure) => FIGURES.map((one) => (one === figure ? 1 : 0))

/** The weights of all waste that the sensors separate. */
export const wasteWeights = (kinds: MonthSummary['kinds']) =>
  FIGURES.map((figure, k) =>
    WASTE_KINDS.some((kind) => kind === figure) && kinds.every((one) => one.kWh[k] !== null) ? 1 : 0,
  )
