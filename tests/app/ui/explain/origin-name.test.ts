import { createReadStream } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { originName } from '@/app/_ui/explain/origin-name'
import { analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { explain, figuresOf } from '@/lib/explain/explain'
import { readLog } from '@/lib/import/read-log'
import { sampleMachine, samplePath } from '../../sample-files'

const NAME = 'broach-early-relief'

describe('where an input comes from, in words', () => {
  it('names figures, entries and settings', () => {
    expect(originName('ledgerKWh.overRelief')).toBe('over relief, energy in this log')
    expect(originName('idle.byLongestHoldS.15')).toBe('electric input while idle, longest hold 15 s')
    expect(originName('options.vent-relief-at-idle.savedKWhPerYear')).toBe(
      'Vent the relief while idle: energy saved a year',
    )
    expect(originName('combinations.0.savedKWhPerYear')).toBe('options together, no. 1: energy saved a year')
    expect(originName('combinations.1.steps.2.savedKWhPerYear')).toBe(
      'options together, no. 2, step 3: energy saved a year',
    )
    expect(originName('bestUnderBudget.steps.0.savedKWhPerYear')).toBe(
      'best set for the budget, step 1: energy saved a year',
    )
    expect(originName('machine.cooling')).toBe('machine: cooling of the oil')
    expect(originName('motor.ratedEfficiency')).toBe('Motor, rated efficiency')
    expect(originName('discountRate')).toBe('site: discount rate')
    expect(originName('some.newSetting')).toBe('some new setting')
  })

  it('shows no path for any input of any figure of a log', async () => {
    const machine = sampleMachine(NAME)
    const site = siteSchema.parse({
      budget: 9000,
      cooling: { electricPerHeat: 0.3 },
      tariff: { demand: { pricePerKWMonth: 9, windowMinutes: 5 } },
      optionLifetimeYears: { 'efficient-motor': 15 },
    })
    const options = { fileName: NAME, machine, timeZone: site.timeZone }
    const { analysis, grounds } = analyse(
      await readLog(createReadStream(samplePath(`${NAME}.csv`)), options),
      machine,
      site,
    )
    const froms = figuresOf(analysis, grounds).flatMap((figure) =>
      (explain(figure, analysis, grounds)?.inputs ?? []).flatMap(({ from, source }) =>
        from && source !== 'sensor' ? [from] : [],
      ),
    )
    expect(froms.length).toBeGreaterThan(100)
    for (const from of new Set(froms)) {
      expect(originName(from), from).toMatch(/^\S.*\S$/u)
      expect(originName(from), from).not.toMatch(/[a-z][A-Z]|\w\.\w|undefined|NaN/u)
    }
  }, 60_000)
})
