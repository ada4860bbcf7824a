import type { Assumption } from '@/lib/contract/option-result'
import type { OptionResult } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { type Figured, input } from './told'

/** Unit of an assumption, and the field of the site file that says how far it may be off; null for what is found. */
const MOVED: Readonly<
  Record<Assumption, readonly [unit: (currency: string) => string, field: string | null]>
> = {
  price: [(currency) => `${currency}/kWh`, 'energyPriceLimitShare'],
  hours: [() => 'h/yr', 'plannedHoursLimitShare'],
  saving: [() => 'kWh/yr', null],
  investment: [(currency) => currency, 'optionCosts'],
  maintenance: [(currency) => `${currency}/yr`, 'optionMaintenance'],
  'discount-rate': [() => '1/yr', 'discountRateLimit'],
  life: [() => 'yr', 'lifetimeLimitShare'],
}

/** How far one assumption alone moves an option's net present value. */
export function swingFigure(
  { id, tornado }: OptionResult,
  assumption: string | undefined,
  { currency }: Site,
): Figured | null {
  const swing = tornado?.find((one) => one.assumption === assumption)
  if (!swing) return null
  const [unit, field] = MOVED[swing.assumption]
  const moved = (symbol: 'assumptionAtLow' | 'assumptionAtHigh', value: number) =>
    input(
      symbol,
      value,
      unit(currency),
      field === null ? 'figure' : 'setting',
      field ?? `options.${id}.savedKWhPerYear`,
    )
  return {
    value: swing.high - swing.low,
    unit: currency,
    formula: 'swing',
    inputs: [
      moved('assumptionAtLow', swing.lowAt),
      input('worthAtLow', swing.low, currency, 'fitted'),
      moved('assumptionAtHigh', swing.highAt),
      input('worthAtHigh', swing.high, currency, 'fitted'),
    ],
  }
}
