import { createReadStream } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { type Analysed, analyse } from '@/lib/analyse'
import { explanationSchema } from '@/lib/contract/explanation'
import { siteSchema } from '@/lib/contract/site'
import { explain, figuresOf } from '@/lib/explain/explain'
import { readLog } from '@/lib/import/read-log'
import { sampleMachine, samplePath } from '../../app/sample-files'

const NAME = 'press-all-sensors'
/** A site with everything that money can hang on. */
const site = siteSchema.parse({
  budget: 4500,
  cooling: { electricPerHeat: 0.3 },
  tariff: { demand: { pricePerKWMonth: 9, windowMinutes: 5, coincidenceShare: 0.6 } },
  optionCosts: { 'vent-relief-at-idle': [600, 900, 1500] },
  optionMaintenance: { 'vent-relief-at-idle': [10, 30, 80], 'smaller-pump': [-60, -20, 0] },
  optionLifetimeYears: { 'vent-relief-at-idle': 6.5, 'efficient-motor': 18 },
})

let all: Analysed
let figures: string[]
const of = (figure: string) => {
  const told = explain(figure, all.analysis, all.grounds)
  if (!told) throw new Error(figure)
  return told
}
beforeAll(async () => {
  const machine = sampleMachine(NAME)
  const options = { fileName: NAME, machine, timeZone: site.timeZone }
  all = analyse(await readLog(createReadStream(samplePath(`${NAME}.csv`)), options), machine, site)
  figures = figuresOf(all.analysis, all.grounds).filter((one) =>
    /^(?:options|combinations|bestUnderBudget|marginalCostCurve)\./.test(one),
  )
}, 60_000)

const signedSum = (of: readonly number[]) =>
  Math.sqrt(
    Math.max(
      0,
      of.reduce((sum, one) => sum + one * Math.abs(one), 0),
    ),
  )

describe('figures of money with cooling, demand charge, upkeep and lives of their own', () => {
  it('are there, steps and tornado and curve too', () => {
    for (const figure of [
      'options.vent-relief-at-idle.savedCoolingKWhPerYear',
      'options.vent-relief-at-idle.savedDemandCostPerYear',
      'options.vent-relief-at-idle.maintenanceCostPerYear',
      'options.vent-relief-at-idle.tornado.price',
      'combinations.0.steps.1.netPresentValue',
      'bestUnderBudget.steps.0.savedKWhPerYear',
      'marginalCostCurve.1.costPerSavedKWh',
    ]) {
      expect(figures, figure).toContain(figure)
    }
  })
  it('add their parts up to the interval shown, and keep the published shape', () => {
    for (const figure of figures) {
      const told = of(figure)
      expect(explanationSchema.parse(JSON.parse(JSON.stringify(told))), figure).toEqual(told)
      const { value, low, high, intervalParts } = told
      if (value === null || low === null || high === null) continue
      const below = signedSum(intervalParts.map((part) => part.below))
      const above = signedSum(intervalParts.map((part) => part.above))
      const miss = Math.max(Math.abs(below - (value - low)), Math.abs(above - (high - value)))
      expect(miss, figure).toBeLessThanOrEqual(1e-3 * (high - low) + 1e-9)
    }
  })
  it('flows of money are worth the net present value, of options, sets and steps', () => {
    const worths = figures.filter((one) => one.endsWith('.netPresentValue'))
    expect(worths.length).toBeGreaterThan(10)
    for (const figure of worths) {
      const { value, cashFlows } = of(figure)
      const worth = cashFlows.reduce((sum, { presentValue }) => sum + presentValue, 0)
      expect(Math.abs(worth - (value ?? Number.NaN)), figure).toBeLessThan(1e-6 * Math.abs(value ?? 0) + 1e-6)
    }
  })
  it('a set whose options last differently has flows that fall as each one ends', () => {
    const index = all.analysis.combinations.findIndex(({ order }) =>
      ['vent-relief-at-idle', 'efficient-motor'].every((id) => order.some((one) => one === id)),
    )
    expect(index).toBeGreaterThanOrEqual(0)
    const { cashFlows } = of(`combinations.${index}.netPresentValue`)
    expect(cashFlows.map(({ year }) => year)).toEqual(Array.from({ length: 19 }, (_, year) => year))
    expect(cashFlows[8].flow).toBeLessThan(cashFlows[6].flow)
    expect(cashFlows[18].flow).toBeLessThan(cashFlows[8].flow)
  })
  it('works each figure out of the inputs it names', () => {
    const id = 'options.vent-relief-at-idle'
    const value = (figure: string, symbol: string) =>
      Number(of(`${id}.${figure}`).inputs.find((one) => one.symbol === symbol)?.value)
    const shown = (figure: string) => of(`${id}.${figure}`).value ?? Number.NaN
    const close = (got: number, wanted: number) => expect(got / wanted).toBeCloseTo(1, 9)
    close(
      value('savedCoolingKWhPerYear', 'electricPerHeat') *
        value('savedCoolingKWhPerYear', 'lessHeat') *
        value('savedCoolingKWhPerYear', 'plannedHours'),
      shown('savedCoolingKWhPerYear'),
    )
    close(
      (value('savedDemandCostPerYear', 'peakBefore') - value('savedDemandCostPerYear', 'peakAfter')) *
        value('savedDemandCostPerYear', 'demandPrice') *
        value('savedDemandCostPerYear', 'coincidence') *
        12,
      shown('savedDemandCostPerYear'),
    )
    close(
      value('savedMoneyPerYear', 'savedCost') +
        value('savedMoneyPerYear', 'savedDemand') -
        value('savedMoneyPerYear', 'maintenanceCost'),
      shown('savedMoneyPerYear'),
    )
    const rate = value('costPerSavedKWh', 'discountRate')
    const years = value('costPerSavedKWh', 'lifetime')
    const recovery = rate / (1 - (1 + rate) ** -years)
    close(value('costPerSavedKWh', 'recoveryFactor'), recovery)
    close(
      (value('costPerSavedKWh', 'investment') * recovery + value('costPerSavedKWh', 'maintenanceCost')) /
        (value('costPerSavedKWh', 'savedEnergy') + value('costPerSavedKWh', 'savedCooling')),
      shown('costPerSavedKWh'),
    )
  })
})
