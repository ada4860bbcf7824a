import type { Analysis, OptionResult } from '@/lib/contract/result'
import { estimated } from './account-figures'
import type { Grounds, ReplayGround } from './grounds'
import { cashFlowTable, drawnParts, worthOfOneAYear } from './money'
import { closedParts, scaledParts } from './parts'
import { perYear, replayInputs } from './replay-parts'
import { type Figured, input } from './told'

/** Figures of one option in money and time. */
export function moneyFigure(
  name: string,
  option: OptionResult,
  replay: ReplayGround,
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  const { site } = analysis
  const { savedCostPerYear: saving, investment } = option
  if (!saving || !investment) return null
  const { currency } = site
  const parts = scaledParts(perYear(replay, analysis, grounds), grounds.year.pricePerKWh)
  const cost = input(
    'investment',
    investment.value,
    currency,
    option.investmentIsPlaceholder ? 'default' : 'setting',
    'optionCosts',
  )
  const saved = input(
    'savedCost',
    saving.value,
    `${currency}/yr`,
    'figure',
    `options.${option.id}.savedCostPerYear`,
  )
  const cashFlows = cashFlowTable(saving.value, investment.value, site)
  const rate = input('discountRate', site.discountRate, '1/yr', 'setting', 'discountRate')
  const years = input('lifetime', site.lifetimeYears, 'yr', 'setting', 'lifetimeYears')
  const exact = ['running-hours', 'price'] as const
  switch (name) {
    case 'investment':
      return {
        ...estimated(investment, currency, closedParts([], investment, 'investment')),
        formula: 'investment',
        inputs: [cost],
      }
    case 'netPresentValue': {
      const of = option.netPresentValue
      if (!of) return null
      return {
        ...estimated(of, currency, drawnParts(of, parts, investment, worthOfOneAYear(site), -1)),
        formula: 'net-present-value',
        inputs: [saved, cost, rate, years],
        exact,
        cashFlows,
      }
    }
    case 'paybackYears': {
      const of = option.paybackYears
      if (!of) return null
      const perSaved = -of.value / saving.value
      return {
        ...estimated(of, 'yr', drawnParts(of, parts, investment, perSaved, 1 / saving.value)),
        formula: 'simple-payback',
        inputs: [cost, saved],
        exact,
        cashFlows,
      }
    }
    case 'internalRateOfReturn':
      return {
        value: option.internalRateOfReturn,
        unit: '1/yr',
        formula: 'internal-rate-of-return',
        inputs: [saved, cost, years],
        cashFlows,
      }
    case 'paybackProbability':
      return {
        value: option.paybackProbability,
        unit: '1',
        formula: 'payback-probability',
        inputs: [
          cost,
          saved,
          input('wantedPayback', site.wantedPaybackYears, 'yr', 'setting', 'wantedPaybackYears'),
        ],
      }
    case 'cycleTimeChangeShare':
      return {
        value: option.cycleTimeChangeShare,
        unit: '1',
        formula: 'cycle-time-change',
        inputs: replayInputs(replay, option.settings),
        allSensors: true,
      }
  }
  return null
}
