import type { Basis, Estimate } from '@/lib/contract/estimate'
import { quantile } from '@/lib/numeric/quantile'
import { normal, type Random, triangular } from '@/lib/numeric/random'
import { irr, npv, simplePaybackYears, unitSavingFlows } from './cashflow'

/** Standard deviations from the centre of a normal distribution to either end of its 95 % interval. */
const SIGMAS_TO_95 = 1.959963985
const LOW_SHARE = 0.025
const HIGH_SHARE = 0.975

export interface AppraisalInput {
  /** Saving a year with its 95 % interval, in the site's currency. */
  readonly savedCostPerYear: { readonly value: number; readonly low: number; readonly high: number }
  /** Investment low, likely, high in the same currency, or null where nobody knows. */
  readonly investment: readonly [low: number, likely: number, high: number] | null
  /** Per year, as a share. */
  readonly discountRate: number
  readonly lifetimeYears: number
  readonly wantedPaybackYears: number
  readonly random: Random
  readonly draws?: number
  readonly basis?: Basis
}

export interface Appraisal {
  readonly netPresentValue: Estimate | null
  /** Null too where more than 1 draw in 40 saves nothing: the interval then has no upper end. */
  readonly paybackYears: Estimate | null
  /** Per year, as a share, of the central flows. */
  readonly internalRateOfReturn: number | null
  /** Share of draws that pay back within the wanted time. */
  readonly paybackProbability: number | null
}

const UNKNOWN: Appraisal = {
  netPresentValue: null,
  paybackYears: null,
  internalRateOfReturn: null,
  paybackProbability: null,
}

/**
 * What an investment is worth: central values from the likely investment and the central saving, 95 %
 * intervals by seeded Monte Carlo (JCGM 101:2008). The saving is drawn from a split normal with the
 * interval's two half-widths, the investment from a triangle.
 */
export function appraise(input: AppraisalInput): Appraisal {
  const { savedCostPerYear: saving, investment, random, draws = 2000, basis = 'estimated' } = input
  if (investment === null) return UNKNOWN
  const [low, likely, high] = investment
  const unitFlows = unitSavingFlows(input.lifetimeYears)
  const worthOfOneAYear = npv(input.discountRate, unitFlows)

  const netPresentValues = new Float64Array(draws)
  const paybacks = new Float64Array(draws)
  let paidInTime = 0
  for (let i = 0; i < draws; i += 1) {
    const saved = splitNormal(random, saving.value, saving.low, saving.high)
    const cost = triangular(random, low, likely, high)
    netPresentValues[i] = saved * worthOfOneAYear - cost
    paybacks[i] = simplePaybackYears(cost, saved) ?? Number.POSITIVE_INFINITY
    if (paybacks[i] <= input.wantedPaybackYears) paidInTime += 1
  }

  const payback = simplePaybackYears(likely, saving.value)
  const centralFlows = unitFlows.map((flow, year) => (year === 0 ? -likely : flow * saving.value))
  return {
    netPresentValue: estimateOf(saving.value * worthOfOneAYear - likely, netPresentValues, basis),
    paybackYears: payback === null ? null : estimateOf(payback, paybacks, basis),
    internalRateOfReturn: irr(centralFlows),
    paybackProbability: paidInTime / draws,
  }
}

function splitNormal(random: Random, value: number, low: number, high: number): number {
  const z = normal(random)
  return value + (z * (z < 0 ? value - low : high - value)) / SIGMAS_TO_95
}

/** The central value is kept inside: a triangle's likely value may be its end, outside the quantiles. */
function estimateOf(value: number, drawn: Float64Array, basis: Basis): Estimate | null {
  const low = Math.min(value, quantile(drawn, LOW_SHARE))
  const high = Math.max(value, quantile(drawn, HIGH_SHARE))
  return Number.isFinite(high) ? { value, low, high, basis } : null
}
