import { describe, expect, it } from 'vitest'
import { estimateSchema } from '@/lib/contract/estimate'
import { OPTION_IDS } from '@/lib/contract/result'
import { CATALOGUE } from '@/lib/options/catalogue'
import type { SupplyChange } from '@/lib/options/change'
import { highestNeedPa, neededPa, runsOf } from '@/lib/options/demand'
import { rankReplayed } from '@/lib/options/rank'
import { replayAll, supplyUnder } from '@/lib/options/replay'
import { copyOf, type SupplyStep, supplyShaftW } from '@/lib/options/supply'
import { handRunKW, handShaftKW } from '../../laws/hand-machine'
import {
  DUTY,
  electricOfSupplyJ,
  ledgerOf,
  planOf,
  rankedFor,
  STROKE_KJ,
  STROKES,
  siteWith,
} from './hand-options'

const ledger = ledgerOf()
const { supply, model } = supplyUnder(ledger)

const replay = (change: SupplyChange) => replayAll(ledger, [{ change }], [])[0]

describe('replay', () => {
  it('no change saves nothing, exactly, and is sure of it', () => {
    const nothing = replay((now) => [...now])
    expect(nothing.savedShare).toBe(0)
    expect(nothing.lessHeatW).toBe(0)
    expect(nothing.reach).toEqual({ below: 0, above: 0 })
  })

  it('the logged supply is the duty: model energy and shaft power by hand', () => {
    expect(electricOfSupplyJ(supply, model) / 1000 / STROKES).toBeCloseTo(STROKE_KJ, 3)
    expect(supply.reduce((sum, step) => sum + step.durationS, 0)).toBeCloseTo(34 * STROKES, 6)
    for (const step of supply) {
      expect(supplyShaftW(step, model) / 1000).toBeCloseTo(handShaftKW(step.pressurePa / 1e5), 6)
    }
  })

  it('the demand stays: every option leaves work, its flow and its time', () => {
    for (const { id } of CATALOGUE) {
      const { change } = planOf(id, ledger)
      if (!change) continue
      const after = change(supply, model)
      const demand = (steps: readonly SupplyStep[]) =>
        steps
          .filter((step) => step.kind === 'work-moving' || step.kind === 'work-metering')
          .reduce((sum, step) => sum + step.systemM3S * step.durationS, 0)
      const time = (steps: readonly SupplyStep[]) => steps.reduce((sum, step) => sum + step.durationS, 0)
      expect(demand(after) / demand(supply), id).toBeCloseTo(1, 12)
      // Strokes may get longer within the limit of 5 % of working time, or shorter; else time stays.
      const { cycleTimeChangeShare } = planOf(id, ledger)
      expect(cycleTimeChangeShare, id).toBeLessThanOrEqual(0.05)
      const longerS = cycleTimeChangeShare * 14 * STROKES
      expect(time(after), id).toBeCloseTo(time(supply) + longerS, 6)
      // Never below what the load needs.
      for (const step of after) {
        if (!step.kind.startsWith('work')) continue
        expect(step.pressurePa, id).toBeGreaterThanOrEqual(step.loadPa - 1)
      }
    }
  })

  it('a stopped motor takes only its restart', () => {
    const off = { ...copyOf(supply[0]), motorOn: false, extraJ: 40_000 }
    expect(electricOfSupplyJ([off], model)).toBe(40_000)
    expect(supplyShaftW(off, model)).toBe(0)
  })
})

describe('figures of an option', () => {
  const site = siteWith({ plannedHoursPerYear: 3400, energyPricePerKWh: 0.3, emissionKgPerKWh: 0.207 })
  const vent = rankedFor(ledger, site, 0.3).options.find(({ id }) => id === 'vent-relief-at-idle')

  it('energy, money and carbon of a year by hand', () => {
    // 340 s logged, 3400 h planned: 36 000 times the log.
    const loggedKWh = (STROKE_KJ * STROKES) / 3600
    const savedKWh = ((vent?.savedShare?.value ?? 0) * loggedKWh * 3400) / (340 / 3600)
    expect(vent?.savedKWhInLog?.value).toBeCloseTo((vent?.savedShare?.value ?? 0) * loggedKWh, 6)
    expect((vent?.savedKWhPerYear?.value ?? 0) / savedKWh).toBeCloseTo(1, 6)
    expect((vent?.savedCostPerYear?.value ?? 0) / (0.3 * savedKWh)).toBeCloseTo(1, 6)
    expect((vent?.savedKgCO2PerYear?.value ?? 0) / (0.207 * savedKWh)).toBeCloseTo(1, 6)
  })

  it('heat no longer made: the shaft power saved, on average over running time', () => {
    const lessKW = (19.5 * (handShaftKW(160) - handShaftKW(5))) / 34
    expect(vent?.lessHeatKW?.value).toBeCloseTo(lessKW, 3)
  })

  it('an option that cannot be done has no figures, and says why', () => {
    for (const option of rankedFor(ledger).options) {
      if (option.feasible) continue
      expect(option.reasons.length).toBeGreaterThan(0)
      expect([option.savedShare, option.savedKWhPerYear, option.netPresentValue, option.lessHeatKW]).toEqual([
        null,
        null,
        null,
        null,
      ])
    }
  })
})

describe('ranking', () => {
  it('by energy while any feasible option has no quote of the site, infeasible ones last', () => {
    const { options, ranking } = rankedFor(ledger)
    expect(ranking).toBe('energy')
    const feasible = options.filter((option) => option.feasible)
    expect(feasible.length).toBeGreaterThan(3)
    expect(options.slice(0, feasible.length)).toEqual(feasible)
    const saved = feasible.map((option) => option.savedKWhPerYear?.value ?? 0)
    expect(saved).toEqual([...saved].sort((a, b) => b - a))
    expect(feasible.every((option) => option.investmentIsPlaceholder)).toBe(true)
  })

  const quotes = Object.fromEntries(OPTION_IDS.map((id) => [id, [500, 900, 1500]]))
  it('one quote missing keeps it by energy', () => {
    const { 'vent-relief-at-idle': _, ...rest } = quotes
    const { ranking } = rankedFor(ledger, siteWith({ optionCosts: rest as never }))
    expect(ranking).toBe('energy')
  })

  it('by net present value once every feasible one has a quote: a dear saver falls behind', () => {
    const optionCosts = { ...quotes, 'pressure-compensated-pump': [900_000, 950_000, 1_000_000] }
    const { options, ranking } = rankedFor(ledger, siteWith({ optionCosts: optionCosts as never }))
    expect(ranking).toBe('net-present-value')
    const feasible = options.filter((option) => option.feasible)
    const worth = feasible.map((option) => option.netPresentValue?.value ?? Number.NaN)
    expect(worth).toEqual([...worth].sort((a, b) => b - a))
    expect(feasible.at(-1)?.id).toBe('pressure-compensated-pump')
    expect(options.slice(feasible.length).every((option) => !option.feasible)).toBe(true)
  })

  it('quotes for options that cannot be done are not asked for', () => {
    const needed = rankedFor(ledger).options.filter((option) => option.feasible)
    const optionCosts = Object.fromEntries(needed.map(({ id }) => [id, [500, 900, 1500]]))
    expect(rankedFor(ledger, siteWith({ optionCosts: optionCosts as never })).ranking).toBe(
      'net-present-value',
    )
  })
})

describe('combinations', () => {
  const ranked = rankedFor(ledger)
  const savedOf = (id: string) =>
    ranked.options.find((option) => option.id === id)?.savedKWhPerYear?.value ?? 0

  it('never save more than their parts together, and more than the best part', () => {
    expect(ranked.combinations.length).toBeGreaterThan(0)
    for (const { options, savedKWhPerYear } of ranked.combinations) {
      const parts = options.map(savedOf)
      expect(savedKWhPerYear.value).toBeLessThanOrEqual(
        parts.reduce((sum, part) => sum + part, 0) * (1 + 1e-9),
      )
      expect(savedKWhPerYear.value).toBeGreaterThan(Math.max(...parts))
    }
  })

  it('are replayed: venting on top of a lower setting saves what the hand gives, less than the sum', () => {
    const change = (id: string) => planOf(id, ledger).change
    const lower = change('lower-relief-setting')
    const vent = change('vent-relief-at-idle')
    if (!lower || !vent) throw new Error('both are feasible')
    const both = replay((now, model) => vent(lower(now, model), model))
    const afterKJ =
      0.5 * handRunKW(150) +
      19.5 * handRunKW(5) +
      6 * handRunKW(80) +
      3 * handRunKW(150) +
      5 * handRunKW(145.5)
    expect(both.savedShare).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
    const single = [lower, vent].map((one) => replay(one).savedShare)
    expect(both.savedShare).toBeLessThan(single[0] + single[1] - 0.01)
  })

  it('hold no two options that exclude each other, and order each of theirs once', () => {
    for (const { options, order } of ranked.combinations) {
      expect([...order].sort()).toEqual([...options].sort())
      expect(
        options.filter((id) =>
          /vent-relief|open-centre|pressure-compensated|high-low|load-sensing|variable-speed|accumulator/.test(
            id,
          ),
        ).length,
      ).toBeLessThan(2)
    }
  })

  it('begin with what saves most on its own', () => {
    for (const { options, order } of ranked.combinations) {
      expect(savedOf(order[0])).toBeCloseTo(Math.max(...options.map(savedOf)), 6)
    }
  })
})

describe('demand', () => {
  const step = (over: Partial<SupplyStep>): SupplyStep => ({
    ...supply[0],
    kind: 'work-moving',
    durationS: 3,
    loadPa: 50e5,
    peakLoadPa: 50e5,
    pressurePa: 80e5,
    ...over,
  })
  const unknown = { loadPa: Number.NaN, peakLoadPa: Number.NaN }
  it('is the load pressure; while moving or holding without one, the pump pressure; metering without one, unknown', () => {
    expect(neededPa(step({}))).toBe(50e5)
    expect(neededPa(step(unknown))).toBe(80e5)
    expect(neededPa(step({ ...unknown, kind: 'work-holding' }))).toBe(80e5)
    expect(neededPa(step({ ...unknown, kind: 'work-metering' }))).toBeNaN()
  })
  it('its highest leaves idle steps and transitions out, and is unknown where one step is', () => {
    const idle = step({ kind: 'idle-loaded', loadPa: 200e5, peakLoadPa: 200e5 })
    const flick = step({ durationS: 0.1, loadPa: 150e5, peakLoadPa: 150e5 })
    expect(highestNeedPa([step({}), idle, flick])).toBe(50e5)
    expect(highestNeedPa([step({}), step({ ...unknown, kind: 'work-metering' })])).toBeNaN()
  })
  it('runs are unbroken in time', () => {
    const at = (startS: number, kind: SupplyStep['kind']) => step({ startS, kind })
    const steps = [
      at(0, 'idle-loaded'),
      at(3, 'idle-loaded'),
      at(6, 'work-moving'),
      at(9, 'idle-loaded'),
      at(40, 'idle-loaded'),
    ]
    expect(runsOf(steps, ({ kind }) => kind === 'idle-loaded')).toEqual([
      [0, 1],
      [3, 3],
      [4, 4],
    ])
  })
})

describe('a log in which nothing is wasted', () => {
  it('ranks without failing', () => {
    const moving = ledgerOf([{ ...DUTY[1], seconds: 120 }])
    const { options, combinations } = rankReplayed(moving, {
      site: siteWith(),
      runningHours: 1,
      pricePerKWh: 0.2,
      cycles: [],
    }).ranked
    // Only a motor of a higher class is still a gain; a drive costs its own loss, and says so.
    const gains = options.filter((option) => (option.savedShare?.value ?? 0) > 1e-9)
    expect(gains.map(({ id }) => id)).toEqual(['efficient-motor'])
    const drive = options.find(({ id }) => id === 'variable-speed-drive')
    expect(drive?.savedShare?.value).toBeLessThan(0)
    expect(drive?.reasons.map(({ code }) => code)).toContain('costs-energy')
    expect(combinations).toEqual([])
  })
})

describe('every figure of every option', () => {
  it('lies inside its interval, even where less heat is more', () => {
    for (const option of rankedFor(ledgerOf()).options) {
      for (const figure of Object.values(option)) {
        const parsed = estimateSchema.safeParse(figure)
        if (!parsed.success) continue
        expect(parsed.data.low).toBeLessThanOrEqual(parsed.data.value)
        expect(parsed.data.value).toBeLessThanOrEqual(parsed.data.high)
      }
    }
  })
})
