import { FEW_CYCLES_SHARE_SD } from '@/lib/ledger/over-year'
import { studentFactor } from '@/lib/numeric/student-t'
import { FIGURES, type Figure } from './figures'
import { kindTable, runningHoursOf } from './kind-table'
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

/** What the logs of a month say of one figure. */
export interface LoggedFigure {
  readonly kWh: number
  readonly runningHours: number
  readonly reach: Reach
  readonly days: number
  readonly meanHours: number
  /** Of a day's rate, (kWh/h)²; null with fewer than two days. */
  readonly dayVariance: number | null
}

/**
 * Intervals of one figure of a machine's month. What the unlogged hours would have shown differs from
 * what the logged ones did as days differ (two samples of days of one kind, by Student's t on the days logged); with
 * a single day by a stated share. The planned hours' own doubt comes on top.
 */
export function reachOfMonth(of: LoggedFigure, basis: IntervalBasis): MonthReach {
  const { kWh, runningHours: hours, reach: measured } = of
  if (hours === 0) return { measured, scaled: null, whole: null, scaledParts: null }
  const factor = Math.max(0, basis.plannedHours / hours - 1)
  const unloggedHours = factor * hours
  const days = unloggedHours * dayReachPerHour(of, unloggedHours)
  const planned = (basis.plannedHoursLimitShare * basis.plannedHours * Math.abs(kWh)) / hours
  const doubt = unloggedHours > 0 ? Math.hypot(days, planned) : 0
  return {
    measured,
    scaled: widened(measured, factor, doubt),
    whole: widened(measured, 1 + factor, doubt),
    scaledParts: {
      rates: (factor * (measured.below + measured.above)) / 2,
      days: of.days > 0 ? days : 0,
      hours: unloggedHours > 0 ? planned : 0,
    },
  }
}

const widened = ({ below, above }: Reach, factor: number, doubt: number): Reach => ({
  below: Math.hypot(below * factor, doubt),
  above: Math.hypot(above * factor, doubt),
})

/** 95 % half-width of a rate over unlogged hours beside that over logged ones, kWh/h. */
function dayReachPerHour(of: LoggedFigure, unloggedHours: number): number {
  const { kWh, runningHours, days, meanHours, dayVariance } = of
  if (dayVariance === null) return COVERAGE * FEW_CYCLES_SHARE_SD * Math.abs(kWh / runningHours)
  const unloggedDays = Math.max(1, unloggedHours / meanHours)
  return studentFactor(LEVEL, days - 1) * Math.sqrt(Math.max(0, dayVariance) * (1 / days + 1 / unloggedDays))
}

/** The same of a weighed sum of figures. @param weights in the order of FIGURES */
export function monthReach(
  { spread, kinds, daySpread }: MonthSummary,
  weights: readonly number[],
  basis: IntervalBasis,
): MonthReach {
  const { days, meanHours, covariance } = daySpread
  const figure = {
    kWh: FIGURES.reduce(
      (sum, _, k) => sum + weights[k] * kinds.reduce((total, one) => total + (one.kWh[k] ?? 0), 0),
      0,
    ),
    runningHours: runningHoursOf(kindTable(kinds)),
    reach: spread ? reachOf(spread, weights) : { below: 0, above: 0 },
    days,
    meanHours,
    dayVariance: covariance && weighedVariance(covariance, weights),
  }
  return reachOfMonth(figure, basis)
}

/** The weights that pick one figure. */
export const weightsOf = (figure: Figure) => FIGURES.map((one) => (one === figure ? 1 : 0))

/** The weights of all waste that the sensors separate. */
export const wasteWeights = (kinds: MonthSummary['kinds']) =>
  FIGURES.map((figure, k) =>
    WASTE_KINDS.some((kind) => kind === figure) && kinds.every((one) => one.kWh[k] !== null) ? 1 : 0,
  )
