import type { Combination, OptionId } from '@/lib/contract/option-result'
import type { Analysis } from '@/lib/contract/result'
import { centralFlows } from '@/lib/economics/appraise'
import { capitalRecoveryFactor, worthOfOneAYear } from '@/lib/economics/cashflow'
import { lifetimeOf, maintenanceOf } from '@/lib/economics/option-costs'
import { estimated } from './account-figures'
import type { Grounds, ReplayGround } from './grounds'
import { cashFlowTable, investedParts, moneyParts } from './money'
import { savedKWhPerYear } from './option-figures'
import { closedParts } from './parts'
import { type Figured, input } from './told'
import { yearMoney } from './year-money'

const sameOptions = (a: readonly OptionId[], b: readonly OptionId[]) =>
  a.length === b.length && a.every((id) => b.includes(id))

/** What options add to those done before; to none where `after` is empty. */
const replayOf = (grounds: Grounds, options: readonly OptionId[], after: readonly OptionId[]) =>
  grounds.replays.find((one) => sameOptions(one.options, options) && sameOptions(one.after, after))

/** The replay of a set's step. */
const stepReplay = ({ order }: Combination, step: number, grounds: Grounds) =>
  replayOf(grounds, order.slice(0, step + 1), order.slice(0, step))

/** What a set or a step of one puts in and gets out. */
interface Put {
  readonly row: Combination['steps'][number] | Combination
  readonly replay: ReplayGround
  readonly options: readonly OptionId[]
  readonly path: string
}

/** Money and upkeep of options, and the flows they make, each step's over its own life. */
function flowsOf(set: Combination, steps: readonly number[], analysis: Analysis, grounds: Grounds): number[] {
  const flows: number[] = [0]
  for (const k of steps) {
    const replay = stepReplay(set, k, grounds)
    if (!replay) continue
    const { option, investment } = set.steps[k]
    const { energyCost, demandCost } = yearMoney(replay, analysis, grounds)
    const money = energyCost + demandCost - maintenanceOf(option, analysis.site)[1]
    const lives = [{ share: 1, years: lifetimeOf(option, analysis.site) }]
    centralFlows({ lives }, investment.value, money).forEach((flow, year) => {
      flows[year] = (flows[year] ?? 0) + flow
    })
  }
  return flows
}

function worthFigure(
  { row, replay, options, path }: Put,
  flows: readonly number[],
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  const { site } = analysis
  const { currency } = site
  const of = row.netPresentValue
  if (!of) return null
  const year = yearMoney(replay, analysis, grounds)
  const upkeep = options.map((id) => maintenanceOf(id, site))
  const sum = (end: 0 | 1 | 2) => upkeep.reduce((total, one) => total + one[end], 0)
  const parts = moneyParts({
    saving: year.costParts,
    energyCost: year.energyCost,
    priceLimitShare: site.energyPriceLimitShare,
    maintenance: { value: sum(1), low: sum(0), high: sum(2), basis: 'estimated' },
  })
  const lives = options.map((id) => lifetimeOf(id, site))
  const years = lives.reduce((total, one) => total + one, 0) / lives.length
  const { investment } = row
  return {
    ...estimated(
      of,
      currency,
      investedParts(of, parts, investment, worthOfOneAYear(site.discountRate, years), -1),
    ),
    formula: 'net-present-value',
    inputs: [
      input('savedEnergy', row.savedKWhPerYear.value, 'kWh/yr', 'figure', `${path}.savedKWhPerYear`),
      input('savedMoney', year.energyCost + year.demandCost - sum(1), `${currency}/yr`, 'fitted'),
      input(
        'investment',
        investment.value,
        currency,
        investment.basis === 'default' ? 'default' : 'setting',
        'optionCosts',
      ),
      input('discountRate', site.discountRate, '1/yr', 'setting', 'discountRate'),
      ...[...new Set(lives)].map((life) => input('lifetime', life, 'yr', 'setting', 'lifetimeYears')),
      input('priceLimit', site.energyPriceLimitShare, '1', 'setting', 'energyPriceLimitShare'),
    ],
    exact: ['running-hours', 'logged-input', 'cooling', 'discount-rate', 'life'],
    cashFlows: cashFlowTable(flows, site),
  }
}

function setFigure(
  set: Combination,
  path: string,
  names: readonly string[],
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  const [name, index, ofStep] = names
  const isStep = name === 'steps'
  const step = Number(index)
  const shown = isStep ? ofStep : name
  const row = isStep ? set.steps[step] : set
  const replay = isStep ? stepReplay(set, step, grounds) : replayOf(grounds, set.order, [])
  if (!row || !replay) return null
  const { currency } = analysis.site
  switch (shown) {
    case 'savedKWhPerYear':
      return savedKWhPerYear(row.savedKWhPerYear, replay, {}, analysis, grounds)
    case 'investment':
      return {
        ...estimated(row.investment, currency, closedParts([], row.investment, 'investment')),
        formula: 'investment',
        inputs: (isStep ? [set.steps[step]] : set.steps).map((one) =>
          input(
            'investment',
            one.investment.value,
            currency,
            one.investment.basis === 'default' ? 'default' : 'setting',
            'optionCosts',
          ),
        ),
      }
    case 'netPresentValue': {
      const steps = isStep ? [step] : set.steps.map((_, k) => k)
      const options = steps.map((k) => set.order[k])
      const put: Put = { row, replay, options, path: isStep ? `${path}.steps.${step}` : path }
      return worthFigure(put, flowsOf(set, steps, analysis, grounds), analysis, grounds)
    }
  }
  return null
}

/** Figures of options replayed together: `combinations.0.savedKWhPerYear`, `bestUnderBudget.steps.1.investment`. */
export function combinationFigure(
  path: readonly string[],
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  if (path[0] === 'bestUnderBudget') {
    const set = analysis.bestUnderBudget
    return set && setFigure(set, path[0], path.slice(1), analysis, grounds)
  }
  const set = analysis.combinations[Number(path[1])]
  return set ? setFigure(set, path.slice(0, 2).join('.'), path.slice(2), analysis, grounds) : null
}

/** Cost of each kWh that a step of the best set adds: `marginalCostCurve.0.costPerSavedKWh`. */
export function curveFigure(
  [, index, name]: readonly string[],
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  const { site, marginalCostCurve: curve } = analysis
  const point = curve[Number(index)]
  const done = curve.slice(0, Number(index) + 1).map(({ option }) => option)
  const replay = replayOf(grounds, done, done.slice(0, -1))
  if (!point || !replay) return null
  const { savedKWh, coolingKWh } = yearMoney(replay, analysis, grounds)
  const inputs = [
    input('savedEnergy', savedKWh, 'kWh/yr', 'fitted'),
    input('savedCooling', coolingKWh, 'kWh/yr', 'fitted'),
  ]
  if (name === 'savedKWhPerYear') {
    return {
      value: point.savedKWhPerYear,
      unit: 'kWh/yr',
      formula: 'saved-with-cooling',
      inputs,
      allSensors: true,
    }
  }
  const option = analysis.options.find(({ id }) => id === point.option)
  if (name !== 'costPerSavedKWh' || !option?.investment) return null
  const { currency } = site
  const years = lifetimeOf(point.option, site)
  return {
    value: point.costPerSavedKWh,
    unit: `${currency}/kWh`,
    formula: 'cost-of-saved-energy',
    inputs: [
      ...inputs,
      input('investment', option.investment.value, currency, 'figure', `options.${option.id}.investment`),
      input('recoveryFactor', capitalRecoveryFactor(site.discountRate, years), '1/yr', 'fitted'),
      input(
        'maintenanceCost',
        maintenanceOf(option.id, site)[1],
        `${currency}/yr`,
        'setting',
        'optionMaintenance',
      ),
      input('discountRate', site.discountRate, '1/yr', 'setting', 'discountRate'),
      input('lifetime', years, 'yr', 'setting', 'lifetimeYears'),
    ],
    allSensors: true,
  }
}

/** Paths of all figures of sets and of the curve. */
export function combinationPaths({ combinations, bestUnderBudget, marginalCostCurve }: Analysis): string[] {
  const names = ['savedKWhPerYear', 'investment', 'netPresentValue']
  const ofSet = (path: string, { steps }: Combination) => [
    ...names.map((name) => `${path}.${name}`),
    ...steps.flatMap((_, k) => names.map((name) => `${path}.steps.${k}.${name}`)),
  ]
  return [
    ...combinations.flatMap((set, k) => ofSet(`combinations.${k}`, set)),
    ...(bestUnderBudget ? ofSet('bestUnderBudget', bestUnderBudget) : []),
    ...marginalCostCurve.flatMap((_, k) =>
      ['savedKWhPerYear', 'costPerSavedKWh'].map((name) => `marginalCostCurve.${k}.${name}`),
    ),
  ]
}
