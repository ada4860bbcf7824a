import { capitalRecoveryFactor, worthOfOneAYear } from './cashflow'
import type { Interval, Triangle } from './draws'

/** What an investment promises a year, with everything that it hangs on. Money in the site's currency. */
export interface Prospect {
  /** Energy saved a year, cooling's included, kWh; the interval without the doubts of the year's hours and the price. */
  readonly savedKWh: Interval
  readonly pricePerKWh: number
  /** Demand charge saved a year per kWh saved: it falls and rises with the saving, not with hours or price. */
  readonly demandCostPerKWh: number
  /** More upkeep a year. */
  readonly maintenance: Triangle
  readonly investment: Triangle
  /** How far hours and price may be from what is reckoned with, 95 %, as shares. */
  readonly hoursLimitShare: number
  readonly priceLimitShare: number
  /** Per year, as a share. */
  readonly discountRate: number
  /** How long each share of the saving lasts, years: more than one where options with lives of their own go together. */
  readonly lives: readonly { readonly share: number; readonly years: number }[]
}

/** Money saved a year: energy at its price and the demand charge, less upkeep. */
export const savedMoney = (
  prospect: Prospect,
  savedKWh: number,
  maintenance: number,
  hoursFactor = 1,
  priceFactor = 1,
) => savedKWh * (prospect.pricePerKWh * hoursFactor * priceFactor + prospect.demandCostPerKWh) - maintenance

/** What one unit saved at each year's end is worth now, over all of the lives. */
export const worthOfSaving = ({ lives, discountRate }: Pick<Prospect, 'lives' | 'discountRate'>) =>
  lives.reduce((sum, { share, years }) => sum + share * worthOfOneAYear(discountRate, years), 0)

/** Net present value of the central assumptions, or of others given in their place. */
export function worthOf(prospect: Prospect): number {
  const { savedKWh, maintenance, investment } = prospect
  return worthOfSaving(prospect) * savedMoney(prospect, savedKWh.value, maintenance[1]) - investment[1]
}

/** Investment a year over the lives, interest included, per unit invested. */
export const yearlyShareOfInvestment = ({ lives, discountRate }: Pick<Prospect, 'lives' | 'discountRate'>) =>
  1 / lives.reduce((sum, { share, years }) => sum + share / capitalRecoveryFactor(discountRate, years), 0)

/** Likely investment a year and upkeep, per kWh saved; null where none is. */
export function costPerSavedKWh(of: Prospect): number | null {
  const yearly = of.investment[1] * yearlyShareOfInvestment(of) + of.maintenance[1]
  return of.savedKWh.value > 0 ? yearly / of.savedKWh.value : null
}
