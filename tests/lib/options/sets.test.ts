import { describe, expect, it } from 'vitest'
import { OPTION_IDS } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { ledgerOf, rankedFor } from './hand-options'

const ledger = ledgerOf()
const quotes = Object.fromEntries(
  OPTION_IDS.map((id, k) => [id, [400 + 300 * k, 600 + 400 * k, 900 + 700 * k]]),
)
const ranked = (part: object = {}) => rankedFor(ledger, siteSchema.parse({ optionCosts: quotes, ...part }))
const close = (got: number, wanted: number) =>
  expect(Math.abs(got - wanted)).toBeLessThan(1e-6 * Math.abs(wanted))
const sum = (of: readonly number[]) => of.reduce((total, one) => total + one, 0)

describe('steps of a set', () => {
  it.each([
    ['one life', {}],
    [
      'lives and upkeep of their own',
      {
        optionLifetimeYears: { 'vent-relief-at-idle': 4, 'smaller-pump': 20, 'second-relief-setting': 7 },
        optionMaintenance: { 'smaller-pump': [10, 40, 90], 'vent-relief-at-idle': [5, 20, 30] },
      },
    ],
    [
      'a demand charge and powered cooling',
      {
        cooling: { electricPerHeat: 0.3 },
        tariff: { demand: { pricePerKWMonth: 10, windowMinutes: 68 / 60 } },
      },
    ],
  ])('add up to the set: savings, investments and worth (%s)', (_, part) => {
    const { combinations, options } = ranked(part)
    expect(combinations.length).toBeGreaterThan(0)
    for (const { order, steps, savedKWhPerYear, netPresentValue, investment } of combinations) {
      expect(steps.map(({ option }) => option)).toEqual(order)
      close(sum(steps.map((step) => step.savedKWhPerYear.value)), savedKWhPerYear.value)
      close(sum(steps.map((step) => step.netPresentValue.value)), netPresentValue?.value ?? Number.NaN)
      close(sum(steps.map((step) => step.investment.value)), investment.value)
      const first = options.find(({ id }) => id === order[0])
      expect(steps[0].savedKWhPerYear).toEqual(first?.savedKWhPerYear)
      expect(steps[0].netPresentValue).toEqual(first?.netPresentValue)
    }
  })
  it('a later step saves less than the option would alone: never the single saving', () => {
    const { combinations, options } = ranked()
    const alone = (id: string) => options.find((one) => one.id === id)?.savedKWhPerYear?.value ?? 0
    const later = combinations.flatMap(({ steps }) => steps.slice(1))
    expect(later.length).toBeGreaterThan(0)
    for (const { option, savedKWhPerYear } of later) {
      expect(savedKWhPerYear.value).toBeLessThanOrEqual(alone(option) * (1 + 1e-9))
    }
    expect(later.some(({ option, savedKWhPerYear }) => savedKWhPerYear.value < 0.98 * alone(option))).toBe(
      true,
    )
  })
})

describe('best set under a budget', () => {
  const free = ranked()
  const costOf = (id: string) => quotes[id][1]
  it('is not looked for without a budget, and null where nothing can be had for it', () => {
    expect(free.bestUnderBudget).toBeNull()
    expect(ranked({ budget: 100 }).bestUnderBudget).toBeNull()
  })
  it.each([700, 1200, 2000, 3500, 6000, 20_000])(
    '%i: keeps to it, and no single option or shown set that does is worth more',
    (budget) => {
      const { bestUnderBudget, options, combinations } = ranked({ budget })
      if (!bestUnderBudget) throw new Error('something costs 600')
      expect(bestUnderBudget.investment.value).toBeLessThanOrEqual(budget)
      const worth = bestUnderBudget.netPresentValue?.value ?? Number.NaN
      for (const { id, feasible, netPresentValue } of options) {
        if (feasible && costOf(id) <= budget)
          expect(netPresentValue?.value).toBeLessThanOrEqual(worth * (1 + 1e-6))
      }
      for (const { investment, netPresentValue } of combinations) {
        if (investment.value <= budget) expect(netPresentValue?.value).toBeLessThanOrEqual(worth * (1 + 1e-6))
      }
    },
  )
  it('more money never buys less', () => {
    const worths = [700, 1200, 2000, 3500, 6000, 20_000].map(
      (budget) => ranked({ budget }).bestUnderBudget?.netPresentValue?.value ?? 0,
    )
    expect(worths).toEqual([...worths].sort((a, b) => a - b))
  })
  it('without quotes the set that saves most is taken', () => {
    const { bestUnderBudget, options, ranking } = rankedFor(ledger, siteSchema.parse({ budget: 5000 }))
    expect(ranking).toBe('energy')
    const affordable = options.filter(({ investment }) => (investment?.value ?? Infinity) <= 5000)
    const most = Math.max(...affordable.map(({ savedKWhPerYear }) => savedKWhPerYear?.value ?? 0))
    expect(bestUnderBudget?.savedKWhPerYear.value).toBeGreaterThanOrEqual(most * (1 - 1e-9))
  })
})

describe('marginal cost curve', () => {
  it('follows the best set: cost of each step by hand from its own saving', () => {
    const { marginalCostCurve, combinations } = ranked()
    expect(marginalCostCurve.map(({ option }) => option)).toEqual(combinations[0].order)
    // Capital recovery factor of 10 years at 8 %, by hand: 0.149029.
    marginalCostCurve.forEach(({ option, savedKWhPerYear, costPerSavedKWh }, k) => {
      expect(savedKWhPerYear).toBeCloseTo(combinations[0].steps[k].savedKWhPerYear.value, 6)
      expect((costPerSavedKWh ?? 0) / ((0.149029 * quotes[option][1]) / savedKWhPerYear)).toBeCloseTo(1, 5)
    })
  })
})

it('a tornado stands with every feasible option, its centre between the ends', () => {
  for (const { feasible, tornado, netPresentValue } of ranked().options) {
    expect(tornado === null).toBe(!feasible)
    for (const { low, high } of tornado ?? []) {
      expect(netPresentValue?.value).toBeGreaterThanOrEqual(low - 1e-6)
      expect(netPresentValue?.value).toBeLessThanOrEqual(high + 1e-6)
    }
  }
})
