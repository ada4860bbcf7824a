import { describe, expect, it } from 'vitest'
import type { Estimate } from '@/lib/contract/estimate'
import { worthOfOneAYear } from '@/lib/economics/cashflow'
import type { FundingChoice } from '@/lib/portfolio/choice'
import { costCurveOf } from '@/lib/portfolio/cost-curve'
import { fund, type MachineChoices, usualAim } from '@/lib/portfolio/fund'

const sure = (value: number): Estimate => ({ value, low: value, high: value, basis: 'estimated' })

const choice = (investment: number, worth: number, kWh: number, isPlaceholder = false): FundingChoice => ({
  options: ['vent-relief-at-idle'],
  investment: sure(investment),
  netPresentValue: sure(worth),
  savedKWhPerYear: sure(kWh),
  yearlyCost: investment / worthOfOneAYear(0.08, 10),
  isPlaceholder,
})

/** Worked by hand: 1000 buys b (600) and the small one of a (300); d costs more than there is, c loses, e has nothing. */
const MACHINES: readonly MachineChoices[] = [
  { machineId: 'a', choices: [choice(300, 900, 100), choice(800, 1700, 900)] },
  { machineId: 'b', choices: [choice(600, 1500, 300)] },
  { machineId: 'c', choices: [choice(200, -50, 400)] },
  { machineId: 'd', choices: [choice(5000, 9000, 5000)] },
  { machineId: 'e', choices: [] },
  { machineId: 'f', choices: [choice(500, 510, 50)] },
]

describe('which fixes to fund', () => {
  it('spends the budget where the net present value is highest, and says why others get nothing', () => {
    const got = fund(MACHINES, 1000, 'worth')
    expect(got.funded.map(({ machineId, choice: own }) => [machineId, own.investment.value])).toEqual([
      ['a', 300],
      ['b', 600],
    ])
    expect(got).toMatchObject({ cost: 900, worth: 2400, isBest: true })
    expect(got.leftOut.map(({ machineId, reason }) => [machineId, reason])).toEqual([
      ['c', 'not-worth-it'],
      ['d', 'beyond-budget'],
      ['e', 'no-choice'],
      ['f', 'buys-less'],
    ])
  })

  it('says what the next money buys: most gain for the extra money first', () => {
    const { further } = fund(MACHINES, 1000, 'worth')
    // 100 is left: a's larger set takes 400 more and gains 800; d 4900 for 9000; f 400 for 510.
    expect(further.map(({ machineId, extraCost, gain }) => [machineId, extraCost, gain])).toEqual([
      ['a', 400, 800],
      ['d', 4900, 9000],
      ['f', 400, 510],
    ])
    // The money for the first is enough indeed.
    expect(fund(MACHINES, 1400, 'worth').worth).toBe(3200)
  })

  it('can make energy the aim, which it is while an investment is a placeholder', () => {
    expect(fund(MACHINES, 1000, 'energy').funded.map(({ machineId }) => machineId)).toEqual(['a', 'c'])
    expect(usualAim(MACHINES)).toBe('worth')
    expect(usualAim([...MACHINES, { machineId: 'g', choices: [choice(1, 1, 1, true)] }])).toBe('energy')
  })

  it('puts the cheapest kWh first on the curve, without a gap', () => {
    const curve = costCurveOf(fund(MACHINES, 10_000, 'worth').funded)
    const costs = curve.map(({ costPerSavedKWh }) => costPerSavedKWh)
    expect(costs).toEqual([...costs].sort((a, b) => a - b))
    expect(curve[0].fromKWh).toBe(0)
    expect(curve.slice(1).map(({ fromKWh }) => fromKWh)).toEqual(curve.slice(0, -1).map(({ toKWh }) => toKWh))
    expect(curve.at(-1)).toMatchObject({ spent: 800 + 600 + 5000 + 500 })
    // 800 over ten years at 8 % (annuity 6.710081, tables, from memory), for 900 kWh a year.
    const ofA = curve.find(({ machineId }) => machineId === 'a')
    expect(ofA?.costPerSavedKWh).toBeCloseTo(800 / 6.710081 / 900, 6)
  })
})
