import { FIGURE_COUNT, FIGURES } from './figures'
import { kindTable } from './kind-table'
import type { ReactiveEnergy } from './log-month'
import { wasteWeights, weightsOf } from './month-intervals'
import { reachOf, weighedVariance } from './month-spread'
import type { Reach } from './reach'
import type { MonthSummary } from './summary'

/** Raised with every change of what is packed or of its order: rows of another layout are made anew from their summary. */
export const NARROW_LAYOUT = 2

/**
 * What pages need of a machine's month, made of its summary where that is stored: intervals already weighed, so that
 * what is left to do when it is read is the plan, prices beside energy, and what it is held against.
 */
export interface NarrowMonth {
  readonly table: Float64Array
  readonly logs: number
  readonly cycles: number
  /** Days on which the machine ran, and their mean hours. */
  readonly days: number
  readonly meanHours: number
  /** Of what is measured, 95 %, in the order of FIGURES, all separable waste last; null: rolled up by an earlier engine. */
  readonly reach: readonly Reach[] | null
  /** Of a day's rate, (kWh/h)², in the same order; null with fewer than two days. */
  readonly dayVariance: readonly number[] | null
  readonly peakW: number | null
  readonly reactive: ReactiveEnergy | null
  readonly leftOutS: number
  readonly spans: MonthSummary['spans']
}

/** Place of all separable waste behind FIGURES. */
export const ALL_WASTE = FIGURE_COUNT

export function narrowMonth(summary: MonthSummary): NarrowMonth {
  const { kinds, spread, daySpread, logs, cycles, peakW, reactive, leftOutS, spans } = summary
  const weights = [...FIGURES.map(weightsOf), wasteWeights(kinds)]
  const { days, meanHours, covariance } = daySpread
  return {
    table: kindTable(kinds),
    logs,
    cycles,
    days,
    meanHours,
    reach: spread && weights.map((one) => reachOf(spread, one)),
    dayVariance: covariance && weights.map((one) => weighedVariance(covariance, one)),
    peakW,
    reactive,
    leftOutS,
    spans,
  }
}

/** Its length and nine values stand before. */
const FIGURES_AT = 10

/** All but the table in one row of numbers, its own length first; NaN stands for null. */
export function packRest(of: NarrowMonth): Float64Array {
  const { reactive, reach, dayVariance } = of
  const none = (value: number | null | undefined) => value ?? Number.NaN
  const values = [of.logs, of.cycles, of.days, of.meanHours, none(of.peakW), of.leftOutS]
  values.push(none(reactive?.varS), none(reactive?.electricJ), reactive?.isRatedVoltage ? 1 : 0)
  for (let k = 0; k <= ALL_WASTE; k++) {
    values.push(none(reach?.[k].below), none(reach?.[k].above), none(dayVariance?.[k]))
  }
  for (const { fromMs, toMs } of of.spans) values.push(fromMs, toMs)
  return Float64Array.of(values.length + 1, ...values)
}

/** Where each of some rests begins that were packed one behind the other. */
export function restsAt(rests: Float64Array, count: number): number[] {
  const starts: number[] = []
  for (let at = 0; starts.length < count; at += rests[at]) starts.push(at)
  return starts
}

/** @param at where its rest begins among all */
export function unpackMonth(table: Float64Array, rests: Float64Array, at: number): NarrowMonth {
  return unpackRest(table, rests.subarray(at, at + rests[at]))
}

function unpackRest(table: Float64Array, rest: Float64Array): NarrowMonth {
  const [, logs, cycles, days, meanHours, peakW, leftOutS, varS, electricJ, isRatedVoltage] = rest
  let at = FIGURES_AT
  const reach: Reach[] = []
  const dayVariance: number[] = []
  for (let k = 0; k <= ALL_WASTE; k++, at += 3) {
    reach.push({ below: rest[at], above: rest[at + 1] })
    dayVariance.push(rest[at + 2])
  }
  const spans: { fromMs: number; toMs: number }[] = []
  for (; at < rest.length; at += 2) spans.push({ fromMs: rest[at], toMs: rest[at + 1] })
  return {
    table,
    logs,
    cycles,
    days,
    meanHours,
    reach: Number.isNaN(reach[0].below) ? null : reach,
    dayVariance: Number.isNaN(dayVariance[0]) ? null : dayVariance,
    peakW: Number.isNaN(peakW) ? null : peakW,
    reactive: Number.isNaN(varS) ? null : { varS, electricJ, isRatedVoltage: isRatedVoltage === 1 },
    leftOutS,
    spans,
  }
}
