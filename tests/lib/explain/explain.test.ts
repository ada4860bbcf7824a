import { createReadStream, readFileSync } from 'node:fs'
import { Readable } from 'node:stream'
import { beforeAll, describe, expect, it } from 'vitest'
import { type Analysed, analyse } from '@/lib/analyse'
import type { Estimate } from '@/lib/contract/estimate'
import { explanationSchema } from '@/lib/contract/explanation'
import { type Site, siteSchema } from '@/lib/contract/site'
import { explain, figuresOf } from '@/lib/explain/explain'
import { readLog } from '@/lib/import/read-log'
import { sampleMachine, samplePath } from '../../app/sample-files'

const site: Site = siteSchema.parse(JSON.parse(readFileSync(samplePath('mill-lane.site.json'), 'utf8')))

async function analysed(name: string): Promise<Analysed> {
  const machine = sampleMachine(name)
  const options = { fileName: name, machine, timeZone: site.timeZone }
  return analyse(await readLog(createReadStream(samplePath(`${name}.csv`)), options), machine, site)
}

const isEstimate = (of: unknown): of is Estimate => typeof of === 'object' && of !== null && 'basis' in of

describe.each(['press-all-sensors', 'baler-line-flow'])('%s', (name) => {
  let all: Analysed
  let figures: string[]
  const of = (figure: string) => {
    const told = explain(figure, all.analysis, all.grounds)
    if (!told) throw new Error(figure)
    return told
  }
  beforeAll(async () => {
    all = await analysed(name)
    figures = figuresOf(all.analysis, all.grounds)
  }, 60_000)

  it('explains every estimate of the result, and shows it as it is', () => {
    const missing: string[] = []
    const visit = (value: unknown, path: string) => {
      if (isEstimate(value)) {
        if (!figures.includes(path)) missing.push(path)
        const { value: shown, low, high, basis } = of(path)
        expect({ value: shown, low, high, basis }, path).toEqual(value)
      } else if (typeof value === 'object' && value !== null) {
        for (const [key, inner] of Object.entries(value)) {
          const keyed = inner as { id?: string; code?: string } | null
          visit(inner, [path, keyed?.id ?? keyed?.code ?? key].filter(Boolean).join('.'))
        }
      }
    }
    const { log: _, site: __, phases: ___, ...shown } = all.analysis
    visit(shown, '')
    expect(missing).toEqual([])
    expect(figures.length).toBeGreaterThan(100)
  })

  it('has the shape that is published, and JSON keeps it', () => {
    for (const figure of figures) {
      const told = of(figure)
      expect(explanationSchema.parse(JSON.parse(JSON.stringify(told)))).toEqual(told)
    }
  })

  it('adds its parts up to the interval shown, for every figure', () => {
    for (const figure of figures) {
      const { value, low, high, intervalParts } = of(figure)
      if (value === null || low === null || high === null) continue
      const side = (which: 'below' | 'above') =>
        Math.sqrt(
          Math.max(
            0,
            intervalParts.reduce((sum, part) => sum + part[which] * Math.abs(part[which]), 0),
          ),
        )
      const miss = Math.max(Math.abs(side('below') - (value - low)), Math.abs(side('above') - (high - value)))
      expect(miss, figure).toBeLessThanOrEqual(1e-3 * (high - low))
      const rest = intervalParts.filter(({ source }) => source === 'rest')
      for (const part of rest) expect(Math.abs(part.shareOfVariance), figure).toBeLessThan(0.01)
      const shares = intervalParts.reduce((sum, { shareOfVariance }) => sum + shareOfVariance, 0)
      if (high > low) expect(shares, figure).toBeCloseTo(1, 6)
    }
  })

  it('names for every figure with an interval what it comes from', () => {
    for (const figure of figures) {
      const { low, high, inputs, rules, sensors } = of(figure)
      if (low === null || high === null || high - low < 1e-9) continue
      expect(inputs.length + rules.length + sensors.length, figure).toBeGreaterThan(0)
    }
  })

  it('works yearly savings and money out of the inputs it names', () => {
    const [best] = all.analysis.options
    const value = (figure: string, symbol: string) =>
      Number(of(`options.${best.id}.${figure}`).inputs.find((one) => one.symbol === symbol)?.value)
    const { savedKWhPerYear, savedCostPerYear, netPresentValue, savedShare } = best
    const hours = value('savedKWhPerYear', 'plannedHours') / value('savedKWhPerYear', 'runningHours')
    const perYear = value('savedKWhPerYear', 'savedShare') * value('savedKWhPerYear', 'input') * hours
    expect(perYear / (savedKWhPerYear?.value ?? 0)).toBeCloseTo(1, 9)
    const cost = value('savedCostPerYear', 'savedEnergy') * value('savedCostPerYear', 'pricePerKWh')
    expect(cost / (savedCostPerYear?.value ?? 0)).toBeCloseTo(1, 9)
    const share = 1 - value('savedShare', 'energyAfter') / value('savedShare', 'energyBefore')
    expect(share / (savedShare?.value ?? 0)).toBeCloseTo(1, 9)
    const { cashFlows } = of(`options.${best.id}.netPresentValue`)
    const worth = cashFlows.reduce((sum, { presentValue }) => sum + presentValue, 0)
    expect(worth / (netPresentValue?.value ?? 0)).toBeCloseTo(1, 9)
    for (const { flow, discountFactor, presentValue } of cashFlows) {
      expect(flow * discountFactor).toBeCloseTo(presentValue, 9)
    }
  })

  it('says what would narrow the saving, and never more than all of it', () => {
    for (const figure of figures) {
      const { narrowing } = of(figure)
      if (!narrowing) continue
      expect(narrowing.narrowerShare, figure).toBeGreaterThan(0)
      expect(narrowing.narrowerShare, figure).toBeLessThanOrEqual(1)
    }
  })

  it('is small enough to be kept with every log', () => {
    expect(JSON.stringify(all.grounds).length).toBeLessThan(60_000)
  })

  it('does not know figures that the result has not', () => {
    for (const figure of [
      '',
      'ledgerKWh',
      'ledgerKWh.heat',
      'options.rocket.savedShare',
      'ledgerKWh.__proto__',
    ]) {
      expect(explain(figure, all.analysis, all.grounds), figure).toBeNull()
    }
  })
})

describe('what the press measures', () => {
  it('is told from what the baler estimates', async () => {
    const press = await analysed('press-all-sensors')
    const baler = await analysed('baler-line-flow')
    const relief = (one: Analysed) => explain('ledgerKWh.overRelief', one.analysis, one.grounds)
    expect(relief(press)?.rules[0].terms).toEqual([{ coefficient: 1, symbol: 'returnFlowMeter' }])
    expect(
      relief(baler)
        ?.rules[0].terms.map(({ symbol }) => symbol)
        .sort(),
    ).toEqual(['fullFlowModel', 'systemFlowMeter'])
    expect(relief(baler)?.narrowing?.code).toBe('fit-pump-flow')
  }, 60_000)
})

describe('a tank line', () => {
  it('tells the pressure that usually stands behind the relief, and which sensor says so', async () => {
    const [head, ...rows] = readFileSync(samplePath('press-all-sensors.csv'), 'utf8').trimEnd().split('\n')
    const column = 'Tank line [bar]'
    // 3 bar while the pump turns: whenever it presses.
    const csv = [`${head},${column}`, ...rows.map((row) => `${row},${Number(row.split(',')[2]) > 2 ? 3 : 0}`)]
    const machine = sampleMachine('press-all-sensors')
    const sensor = { column, quantity: 'pressure', location: 'tank-line', unit: 'bar' } as const
    const channels = [...(machine.channels ?? []), { ...sensor, accuracy: { percentOfReading: 1 } }]
    const { analysis, grounds } = analyse(
      await readLog(Readable.from([Buffer.from(csv.join('\n'))]), {
        fileName: 'with-tank.csv',
        machine: { ...machine, channels },
        timeZone: site.timeZone,
      }),
      { ...machine, channels },
      site,
    )
    const told = explain('reliefFit.backPressureBar', analysis, grounds)
    expect(told).toMatchObject({ unit: 'bar', formula: { code: 'usual-back-pressure' } })
    expect(told?.value).toBeCloseTo(3, 6)
    expect(told?.sensors.map((one) => one.column)).toEqual([column])
    expect(figuresOf(analysis, grounds)).toContain('reliefFit.backPressureBar')
  }, 60_000)
})
