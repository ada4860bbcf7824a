import type { Estimate } from '@/lib/contract/estimate'
import { scaled } from './estimates'
import { COVERAGE } from './propagate'

/** Spread of what was seen in fewer than three cycles, as a share (1 sd): common practice, no source. */
export const FEW_CYCLES_SHARE_SD = 0.15

/** What turns a log into a year, beside the sensors and models. */
export interface YearSpread {
  /** Relative standard deviation from seeing only these cycles; null with fewer than three. */
  readonly samplingShareSd: number | null
  /** How far the year's hours may be from the planned ones, 95 %, as a share. */
  readonly plannedHoursLimitShare: number
}

/** 95 % half-widths of the two, in the estimate's unit. */
export function yearReach(value: number, { samplingShareSd, plannedHoursLimitShare }: YearSpread) {
  return {
    sampling: COVERAGE * (samplingShareSd ?? FEW_CYCLES_SHARE_SD) * Math.abs(value),
    hours: plannedHoursLimitShare * Math.abs(value),
  }
}

/** A log's figure over a year: `factor` times as much, less sure by the spread between cycles and by the year's hours. */
export function overYear(logged: Estimate, factor: number, spread: YearSpread): Estimate {
  const { value, low, high, basis } = logged
  const { sampling, hours } = yearReach(value, spread)
  const wider = {
    value,
    low: value - Math.hypot(value - low, sampling, hours),
    high: value + Math.hypot(high - value, sampling, hours),
    basis,
  }
  return scaled(wider, factor)
}
