import type { Result } from '@/lib/contract/result'
import type { HowRow } from '../explain/how-list'
import { NO_DATA, percent, tick } from '../format'
import type { Option } from './option-groups'

/** A share as the bare number of percent; the unit stands beside it. */
const inPercent = (share: number | null) => (share === null ? NO_DATA : percent(share).replace(' %', ''))

/** Every figure of an option, in the order a reader asks for them, each with its path in the result. */
export function optionFigures(option: Option, { site }: Pick<Result, 'site'>): HowRow[] {
  const { currency } = site
  const path = (name: keyof Option) => `options.${option.id}.${name}`
  return [
    {
      name: 'Share of electric input saved',
      figure: path('savedShare'),
      unit: '%',
      estimate: option.savedShare,
      scale: 100,
    },
    { name: 'Saved in this log', figure: path('savedKWhInLog'), unit: 'kWh', estimate: option.savedKWhInLog },
    {
      name: 'Saved in a year',
      figure: path('savedKWhPerYear'),
      unit: 'kWh/yr',
      estimate: option.savedKWhPerYear,
    },
    ...(option.savedCoolingKWhPerYear && option.savedCoolingKWhPerYear.value !== 0
      ? [
          {
            name: 'Electricity of cooling saved',
            figure: path('savedCoolingKWhPerYear'),
            unit: 'kWh/yr',
            estimate: option.savedCoolingKWhPerYear,
          },
        ]
      : []),
    {
      name: 'Energy cost saved',
      figure: path('savedCostPerYear'),
      unit: `${currency}/yr`,
      estimate: option.savedCostPerYear,
    },
    ...(site.tariff?.demand
      ? [
          {
            name: 'Demand charge saved',
            figure: path('savedDemandCostPerYear'),
            unit: `${currency}/yr`,
            estimate: option.savedDemandCostPerYear,
            absent: 'not judged: the log covers no window',
          },
        ]
      : []),
    {
      name: 'CO₂ avoided',
      figure: path('savedKgCO2PerYear'),
      unit: 'kg/yr',
      estimate: option.savedKgCO2PerYear,
    },
    { name: 'Less heat into the oil', figure: path('lessHeatKW'), unit: 'kW', estimate: option.lessHeatKW },
    {
      name: option.investmentIsPlaceholder ? 'Investment (placeholder, no quote entered)' : 'Investment',
      figure: path('investment'),
      unit: currency,
      estimate: option.investment,
    },
    ...(site.optionMaintenance[option.id]
      ? [
          {
            name: 'More upkeep',
            figure: path('maintenanceCostPerYear'),
            unit: `${currency}/yr`,
            estimate: option.maintenanceCostPerYear,
          },
        ]
      : []),
    {
      name: 'Money saved in a year, with demand charge and upkeep',
      figure: path('savedMoneyPerYear'),
      unit: `${currency}/yr`,
      estimate: option.savedMoneyPerYear,
    },
    {
      name: 'Net present value',
      figure: path('netPresentValue'),
      unit: currency,
      estimate: option.netPresentValue,
    },
    { name: 'Simple payback', figure: path('paybackYears'), unit: 'years', estimate: option.paybackYears },
    {
      name: 'Payback with interest',
      figure: path('discountedPaybackYears'),
      unit: 'years',
      estimate: option.discountedPaybackYears,
      absent: 'may never come',
    },
    {
      name: 'Cost of a saved kWh',
      figure: path('costPerSavedKWh'),
      unit: `${currency}/kWh`,
      estimate: option.costPerSavedKWh,
    },
    {
      name: 'Internal rate of return',
      figure: path('internalRateOfReturn'),
      unit: '%/yr',
      text: inPercent(option.internalRateOfReturn),
    },
    {
      name: `Chance of payback within ${tick(site.wantedPaybackYears)} years`,
      figure: path('paybackProbability'),
      unit: '%',
      text: inPercent(option.paybackProbability),
    },
    {
      name: 'Change of cycle time',
      figure: path('cycleTimeChangeShare'),
      unit: '%',
      text: inPercent(option.cycleTimeChangeShare),
    },
  ]
}
