import type { Estimate } from '@/lib/contract/estimate'
import type { Analysis } from '@/lib/contract/result'
import { estimated } from './account-figures'
import type { Grounds } from './grounds'
import { cashFlowTable, drawnParts, worthOfOneAYear } from './money'
import { savedKWhPerYear } from './option-figures'
import { scaledParts } from './parts'
import { perYear } from './replay-parts'
import { type Figured, input } from './told'

/** The investments of a set's options together; null where one is not known. */
function investmentOf(set: Analysis['combinations'][number], { options }: Analysis): Estimate | null {
  const sum: Estimate = { value: 0, low: 0, high: 0, basis: 'estimated' }
  for (const id of set.options) {
    const cost = options.find((one) => one.id === id)?.investment
    if (!cost) return null
    sum.value += cost.value
    sum.low += cost.low
    sum.high += cost.high
    if (cost.basis === 'default') sum.basis = 'default'
  }
  return sum
}

/** Figures of options replayed together: `combinations.0.savedKWhPerYear`. */
export function combinationFigure(
  path: readonly string[],
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  const [, index, name] = path
  const { site } = analysis
  const set = analysis.combinations[Number(index)]
  const replay = set && grounds.replays.find(({ options }) => options.join() === set.options.join())
  if (!replay) return null
  if (name === 'savedKWhPerYear') return savedKWhPerYear(set.savedKWhPerYear, replay, {}, analysis, grounds)
  const investment = investmentOf(set, analysis)
  if (name !== 'netPresentValue' || !set.netPresentValue || !investment) return null
  const { pricePerKWh } = grounds.year
  const saved = set.savedKWhPerYear.value * pricePerKWh
  const parts = scaledParts(perYear(replay, analysis, grounds), pricePerKWh)
  const { currency } = site
  return {
    ...estimated(
      set.netPresentValue,
      currency,
      drawnParts(set.netPresentValue, parts, investment, worthOfOneAYear(site), -1),
    ),
    formula: 'net-present-value',
    inputs: [
      input('savedCost', saved, `${currency}/yr`, 'figure', `combinations.${index}.savedKWhPerYear`),
      input(
        'investment',
        investment.value,
        currency,
        investment.basis === 'default' ? 'default' : 'setting',
        'optionCosts',
      ),
      input('discountRate', site.discountRate, '1/yr', 'setting', 'discountRate'),
      input('lifetime', site.lifetimeYears, 'yr', 'setting', 'lifetimeYears'),
    ],
    exact: ['running-hours', 'price'],
    cashFlows: cashFlowTable(saved, investment.value, site),
  }
}
