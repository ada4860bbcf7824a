import type { Analysis, OptionResult } from '@/lib/contract/result'
import { centralFlows } from '@/lib/economics/appraise'
import { capitalRecoveryFactor, worthOfOneAYear } from '@/lib/economics/cashflow'
import { lifetimeOf } from '@/lib/economics/option-costs'
import { estimated } from './account-figures'
import type { Grounds, ReplayGround } from './grounds'
import { cashFlowTable, drawnParts, investedParts, moneyParts, trianglePart } from './money'
import { closedParts, scaledParts } from './parts'
import { replayInputs } from './replay-parts'
import { swingFigure } from './swing-figure'
import { type Figured, input } from './told'
import { yearMoney } from './year-money'

const EXACT = ['running-hours', 'logged-input', 'cooling', 'discount-rate', 'life'] as const

/** Figures of one option in money and time. */
export function moneyFigure(
  [name, detail]: readonly string[],
  option: OptionResult,
  replay: ReplayGround,
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  const { site } = analysis
  const { savedMoneyPerYear: money, savedCostPerYear, maintenanceCostPerYear: upkeep, investment } = option
  if (!money || !savedCostPerYear || !upkeep || !investment) return null
  const { currency } = site
  const years = lifetimeOf(option.id, site)
  const saved = yearMoney(replay, analysis, grounds)
  const { priceLimitShare } = { priceLimitShare: site.energyPriceLimitShare }
  const parts = moneyParts({
    saving: saved.costParts,
    energyCost: saved.energyCost,
    priceLimitShare,
    maintenance: upkeep,
  })
  const path = (of: keyof OptionResult) => `options.${option.id}.${of}`
  const aYear = `${currency}/yr`
  const inputs = {
    cost: input(
      'investment',
      investment.value,
      currency,
      option.investmentIsPlaceholder ? 'default' : 'setting',
      'optionCosts',
    ),
    money: input('savedMoney', money.value, aYear, 'figure', path('savedMoneyPerYear')),
    rate: input('discountRate', site.discountRate, '1/yr', 'setting', 'discountRate'),
    life: input(
      'lifetime',
      years,
      'yr',
      'setting',
      site.optionLifetimeYears[option.id] === undefined ? 'lifetimeYears' : 'optionLifetimeYears',
    ),
    price: input('priceLimit', priceLimitShare, '1', 'setting', 'energyPriceLimitShare'),
    upkeep: input('maintenanceCost', upkeep.value, aYear, 'setting', 'optionMaintenance'),
  }
  const flows = centralFlows({ lives: [{ share: 1, years }] }, investment.value, money.value)
  const cashFlows = cashFlowTable(flows, site)
  const invested = { inputs: [inputs.money, inputs.cost, inputs.rate, inputs.life], exact: EXACT, cashFlows }
  const perMoney = money.value === 0 ? 0 : 1 / money.value
  switch (name) {
    case 'investment':
      return {
        ...estimated(investment, currency, closedParts([], investment, 'investment')),
        formula: 'investment',
        inputs: [inputs.cost],
      }
    case 'maintenanceCostPerYear':
      return {
        ...estimated(upkeep, aYear, closedParts([], upkeep, 'maintenance')),
        formula: 'maintenance',
        inputs: [inputs.upkeep],
      }
    case 'savedMoneyPerYear':
      return {
        ...estimated(money, aYear, drawnParts(money, parts)),
        formula: 'saved-money',
        inputs: [
          input('savedCost', savedCostPerYear.value, aYear, 'figure', path('savedCostPerYear')),
          input(
            'savedDemand',
            option.savedDemandCostPerYear?.value ?? 0,
            aYear,
            'figure',
            path('savedDemandCostPerYear'),
          ),
          inputs.upkeep,
          inputs.price,
        ],
        exact: ['running-hours', 'logged-input', 'cooling'],
      }
    case 'netPresentValue': {
      const of = option.netPresentValue
      const worthOfOne = worthOfOneAYear(site.discountRate, years)
      return (
        of && {
          ...estimated(of, currency, investedParts(of, parts, investment, worthOfOne, -1)),
          ...invested,
          formula: 'net-present-value',
        }
      )
    }
    case 'paybackYears': {
      const of = option.paybackYears
      return (
        of && {
          ...estimated(of, 'yr', investedParts(of, parts, investment, -of.value * perMoney, perMoney)),
          formula: 'simple-payback',
          inputs: [inputs.cost, inputs.money],
          exact: ['running-hours', 'logged-input', 'cooling'],
          cashFlows,
        }
      )
    }
    case 'discountedPaybackYears': {
      const of = option.discountedPaybackYears
      const simple = option.paybackYears
      return (
        of &&
        simple && {
          ...estimated(of, 'yr', investedParts(of, parts, investment, -simple.value * perMoney, perMoney)),
          formula: 'discounted-payback',
          inputs: [
            input('simplePayback', simple.value, 'yr', 'figure', path('paybackYears')),
            inputs.rate,
            inputs.cost,
            inputs.money,
          ],
          exact: ['running-hours', 'logged-input', 'cooling', 'discount-rate'],
          cashFlows,
        }
      )
    }
    case 'costPerSavedKWh': {
      const of = option.costPerSavedKWh
      if (!of) return null
      const wholeKWh = saved.savedKWh + saved.coolingKWh
      const recovery = capitalRecoveryFactor(site.discountRate, years)
      const own = [
        ...scaledParts(saved.energyParts, -of.value / wholeKWh),
        ...scaledParts([trianglePart('investment', investment)], recovery / wholeKWh),
        ...scaledParts([trianglePart('maintenance', upkeep)], 1 / wholeKWh),
      ].filter(({ below, above }) => below !== 0 || above !== 0)
      return {
        ...estimated(of, `${currency}/kWh`, drawnParts(of, own)),
        formula: 'cost-of-saved-energy',
        inputs: [
          inputs.cost,
          input('recoveryFactor', recovery, '1/yr', 'fitted'),
          inputs.rate,
          inputs.life,
          inputs.upkeep,
          input('savedEnergy', saved.savedKWh, 'kWh/yr', 'figure', path('savedKWhPerYear')),
          input('savedCooling', saved.coolingKWh, 'kWh/yr', 'figure', path('savedCoolingKWhPerYear')),
        ],
        exact: EXACT,
      }
    }
    case 'internalRateOfReturn':
      return {
        value: option.internalRateOfReturn,
        unit: '1/yr',
        formula: 'internal-rate-of-return',
        inputs: [inputs.money, inputs.cost, inputs.life],
        cashFlows,
      }
    case 'paybackProbability':
      return {
        value: option.paybackProbability,
        unit: '1',
        formula: 'payback-probability',
        inputs: [
          inputs.cost,
          inputs.money,
          input('wantedPayback', site.wantedPaybackYears, 'yr', 'setting', 'wantedPaybackYears'),
          inputs.price,
        ],
      }
    case 'tornado':
      return swingFigure(option, detail, site)
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
