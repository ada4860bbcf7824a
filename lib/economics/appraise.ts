import type { Basis, Estimate } from '@/lib/contract/estimate'
import { discountedPaybackYears, irr, simplePaybackYears, unitSavingFlows } from './cashflow'
import { drawnInterval, type Interval, type StandardDraws, splitAt, triangleAt } from './draws'
import {
  costPerSavedKWh,
  type Prospect,
  savedMoney,
  worthOfSaving,
  yearlyShareOfInvestment,
} from './prospect'

export interface AppraisalInput extends Prospect {
  readonly wantedPaybackYears: number
  readonly draws: StandardDraws
  readonly basis?: Basis
}

export interface Appraisal {
  /** Energy and demand charge saved a year, less upkeep. */
  readonly savedMoneyPerYear: Estimate
  readonly netPresentValue: Estimate
  /** Null too where more than 1 draw in 40 saves nothing: the interval then has no upper end. */
  readonly paybackYears: Estimate | null
  /** The same with the savings discounted; null too where more than 1 draw in 40 never pays the interest. */
  readonly discountedPaybackYears: Estimate | null
  /** Investment a year, interest included, and upkeep, per kWh saved; null where it has no upper end. */
  readonly costPerSavedKWh: Estimate | null
  /** Per year, as a share, of the central flows. */
  readonly internalRateOfReturn: number | null
  /** Share of draws that pay back within the wanted time. */
  readonly paybackProbability: number
}

/** Flows of the central assumptions, the investment now. */
export function centralFlows(
  { lives }: Pick<Prospect, 'lives'>,
  investment: number,
  saved: number,
): number[] {
  const flows = [-investment]
  for (const { share, years } of lives) {
    unitSavingFlows(years).forEach((flow, year) => {
      if (year > 0) flows[year] = (flows[year] ?? 0) + flow * share * saved
    })
  }
  return flows
}

function discounted(payback: Interval | null, rate: number): Interval | null {
  if (!payback) return null
  // Rising with the simple payback, so that the ends of its interval are the ends of this one.
  const [value, low, high] = [payback.value, payback.low, payback.high].map((years) =>
    discountedPaybackYears(rate, years),
  )
  return value === null || low === null || high === null ? null : { value, low, high }
}

/**
 * What an investment is worth: central values from the likely ones, 95 % intervals by Monte Carlo (JCGM 101:2008)
 * with given draws. Saving, hours of the year, price, investment and upkeep are drawn each by itself: the first
 * three from normal distributions, the saving's split where its interval is uneven, the others from triangles.
 */
export function appraise(input: AppraisalInput): Appraisal {
  const { savedKWh, maintenance, investment, draws, discountRate, basis = 'estimated' } = input
  const worthOfOne = worthOfSaving(input)
  const yearlyShare = yearlyShareOfInvestment(input)
  const arrays = Array.from({ length: 4 }, () => new Float64Array(draws.count))
  const [money, worths, paybacks, unitCosts] = arrays
  let paidInTime = 0
  for (let i = 0; i < draws.count; i += 1) {
    const saved = splitAt(savedKWh, draws.saving[i])
    const hoursFactor = 1 + input.hoursLimitShare * draws.hours[i]
    const priceFactor = 1 + input.priceLimitShare * draws.price[i]
    const cost = triangleAt(investment, draws.investment[i])
    const upkeep = triangleAt(maintenance, draws.maintenance[i])
    money[i] = savedMoney(input, saved, upkeep, hoursFactor, priceFactor)
    worths[i] = money[i] * worthOfOne - cost
    paybacks[i] = simplePaybackYears(cost, money[i]) ?? Number.POSITIVE_INFINITY
    unitCosts[i] =
      saved * hoursFactor > 0
        ? (cost * yearlyShare + upkeep) / (saved * hoursFactor)
        : Number.POSITIVE_INFINITY
    if (paybacks[i] <= input.wantedPaybackYears) paidInTime += 1
  }

  const [, likely] = investment
  const saved = savedMoney(input, savedKWh.value, maintenance[1])
  const payback = simplePaybackYears(likely, saved)
  const paybackInterval = payback === null ? null : drawnInterval(payback, paybacks)
  const unitCost = costPerSavedKWh(input)
  const sure = (value: number, drawn: Float64Array): Estimate => ({
    ...(drawnInterval(value, drawn) ?? { value, low: value, high: value }),
    basis,
  })
  const unsure = (of: Interval | null): Estimate | null => of && { ...of, basis }
  return {
    savedMoneyPerYear: sure(saved, money),
    netPresentValue: sure(saved * worthOfOne - likely, worths),
    paybackYears: unsure(paybackInterval),
    discountedPaybackYears: unsure(discounted(paybackInterval, discountRate)),
    costPerSavedKWh: unsure(unitCost === null ? null : drawnInterval(unitCost, unitCosts)),
    internalRateOfReturn: irr(centralFlows(input, likely, saved)),
    paybackProbability: paidInTime / draws.count,
  }
}
