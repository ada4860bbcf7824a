import type { Estimate } from '@/lib/contract/estimate'
import type { Result } from '@/lib/contract/result'
import { duration, estimate, NO_DATA, number, percent, tick } from '../format'
import type { Option } from './option-groups'

/** A figure of an option with the formula it comes from. */
export interface OptionFigure {
  readonly name: string
  readonly unit: string
  readonly estimate?: Estimate | null
  readonly scale?: number
  /** In place of an estimate, for figures without an interval. */
  readonly text?: string
  readonly formula: string
}

/** A share as the bare number of percent; the unit stands beside it. */
const inPercent = (share: number | null) => (share === null ? NO_DATA : percent(share).replace(' %', ''))

/** Every figure of an option, in the order a reader asks for them, with inputs as they were used. */
export function optionFigures(option: Option, result: Result): OptionFigure[] {
  const { site, log, ledgerKWh } = result
  const { currency } = site
  const price = site.tariff?.bands.length
    ? 'the site’s time-of-use bands'
    : `${number(site.energyPricePerKWh)} ${currency}/kWh`
  const placeholder = option.investmentIsPlaceholder
  return [
    {
      name: 'Share of electric input saved',
      unit: '%',
      estimate: option.savedShare,
      scale: 100,
      formula: `(model before − model after) ÷ model before, both replayed over the ${duration(log.durationS)} of this log`,
    },
    {
      name: 'Saved in this log',
      unit: 'kWh',
      estimate: option.savedKWhInLog,
      formula: `that share × logged input, ${estimate(ledgerKWh.electricIn, 'kWh')}`,
    },
    {
      name: 'Saved in a year',
      unit: 'kWh/yr',
      estimate: option.savedKWhPerYear,
      formula: `saved per running hour of this log × ${number(site.plannedHoursPerYear)} planned h/yr; the interval also holds how much cycles differ`,
    },
    {
      name: 'Energy cost saved',
      unit: `${currency}/yr`,
      estimate: option.savedCostPerYear,
      formula: `kWh/yr × ${price}`,
    },
    {
      name: 'CO₂ avoided',
      unit: 'kg/yr',
      estimate: option.savedKgCO2PerYear,
      formula: `kWh/yr × ${number(site.emissionKgPerKWh)} kg/kWh`,
    },
    {
      name: 'Less heat into the oil',
      unit: 'kW',
      estimate: option.lessHeatKW,
      formula: 'mean over running time of hydraulic and pump losses before − after',
    },
    {
      name: placeholder ? 'Investment (placeholder, no quote entered)' : 'Investment',
      unit: currency,
      estimate: option.investment,
      formula: placeholder
        ? 'shipped placeholder, low to high: enter a quote on the Site page'
        : 'likely cost of the Site page, low to high',
    },
    {
      name: 'Net present value',
      unit: currency,
      estimate: option.netPresentValue,
      formula: `cost saved over ${tick(site.lifetimeYears)} years, discounted at ${percent(site.discountRate)} a year, − investment`,
    },
    {
      name: 'Simple payback',
      unit: 'years',
      estimate: option.paybackYears,
      formula: 'investment ÷ cost saved a year',
    },
    {
      name: 'Internal rate of return',
      unit: '%/yr',
      text: inPercent(option.internalRateOfReturn),
      formula: 'the discount rate at which the net present value is nil',
    },
    {
      name: `Chance of payback within ${tick(site.wantedPaybackYears)} years`,
      unit: '%',
      text: inPercent(option.paybackProbability),
      formula: 'share of draws of saving and investment whose payback is shorter',
    },
    {
      name: 'Change of cycle time',
      unit: '%',
      text: inPercent(option.cycleTimeChangeShare),
      formula: 'working time after ÷ before − 1; a caution says so where cycles get longer',
    },
  ]
}
