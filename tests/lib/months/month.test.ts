import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { kindTable } from '@/lib/months/kind-table'
import { monthBasis, machineMonth as monthOf } from '@/lib/months/month'
import { type MonthTotals, rollUp } from '@/lib/months/rollup'
import { summarise } from '@/lib/months/summary'
import { logOf, type Row } from './log'

const H = 3600
/** 1200 h a year: 100 planned hours a month. */
const site = siteSchema.parse({ energyPricePerKWh: 0.2, emissionKgPerKWh: 0.5, plannedHoursPerYear: 1200 })

const basis = monthBasis('2026-03', { id: 'a', name: 'A' }, site)
const machineMonth = (rows: readonly MonthTotals[]) => monthOf(kindTable(summarise(rows, []).kinds), basis)

function totals(rows: readonly Row[]): MonthTotals[] {
  const { log, analysed } = logOf(rows, '2026-03-02T08:00Z')
  return rollUp(log, analysed, site)
}

/** Input 10 kW in both (500 motor + 700 pump - 40 unaccounted + 8840): 30 h idle, 20 h work, 5 h stopped. */
const IDLE: Row = { kind: 'idle-loaded', holdS: 30 * H, relief: 8840 }
const WORK: Row = { kind: 'work-metering', holdS: 20 * H, relief: 2210, metering: 2210, work: 4420 }
const STOPPED: Row = { kind: 'stopped', holdS: 5 * H, relief: 0 }

describe('a month with half the planned hours logged, by hand', () => {
  const month = machineMonth(totals([IDLE, WORK, STOPPED]))

  it('measures hours and energy by class', () => {
    expect(month.measured.runningHours).toBeCloseTo(50, 9)
    expect(month.measured.hours.idle).toBeCloseTo(30, 9)
    expect(month.measured.hours.work).toBeCloseTo(20, 9)
    expect(month.measured.hours.off).toBeCloseTo(5, 9)
    expect(month.measured.electricByClass.idle.kWh).toBeCloseTo(300, 9)
    expect(month.measured.electricByClass.work.cost).toBeCloseTo(200 * 0.2, 9)
  })
  it('states coverage', () => {
    expect(month.coverageShare).toBeCloseTo(0.5, 12)
    expect(month.thinCoverage).toBe(false)
  })
  it('scales the other 50 h at the measured rates, apart', () => {
    expect(month.scaled?.runningHours).toBeCloseTo(50, 9)
    expect(month.scaled?.electric.kWh).toBeCloseTo(500, 9)
    expect(month.scaled?.hours.off).toBe(0)
    expect(month.whole?.electricByClass.idle.kWh).toBeCloseTo(600, 9)
    expect(month.whole?.hours.off).toBeCloseTo(5, 9)
  })
  it('counts all input while idle as waste, and relief outside idle with its share of the losses', () => {
    expect(month.measured.waste.idle).toEqual({
      kWh: expect.closeTo(300, 9),
      cost: expect.closeTo(60, 9),
      kgCO2: expect.closeTo(150, 9),
    })
    // A quarter of the hydraulic power: a quarter of the input without the unaccounted -0.04 kW.
    expect(month.measured.waste.overRelief?.kWh).toBeCloseTo((10.04 * 20) / 4, 9)
    expect(month.measured.waste.metering?.kWh).toBeCloseTo((10.04 * 20) / 4, 9)
    expect(month.measured.waste.unloading?.kWh).toBe(0)
  })
})

describe('edges', () => {
  it('many logs are one month: rows add up', () => {
    const once = machineMonth(totals([IDLE, WORK]))
    const parts = machineMonth([...totals([IDLE]), ...totals([WORK])])
    expect(parts.whole?.electric.kWh).toBeCloseTo(once.whole?.electric.kWh ?? Number.NaN, 9)
  })
  it('metering that no sensor separates is unknown, not nothing', () => {
    const blind: Row = { ...WORK, metering: Number.NaN, work: Number.NaN }
    const month = machineMonth(totals([IDLE, blind]))
    expect(month.measured.waste.metering).toBeNull()
    expect(month.measured.waste.overRelief).not.toBeNull()
  })
  it('more logged than planned: nothing is scaled', () => {
    const month = machineMonth(totals([{ ...IDLE, holdS: 150 * H }]))
    expect(month.coverageShare).toBeCloseTo(1.5, 12)
    expect(month.scaled?.electric.kWh).toBe(0)
    expect(month.whole).toEqual(month.measured)
  })
  it('one shift of a month is thin', () => {
    expect(machineMonth(totals([{ ...IDLE, holdS: 8 * H }])).thinCoverage).toBe(true)
  })
  it('starts are no running hours, but their energy is scaled along', () => {
    const start: Row = { kind: 'starting', holdS: H, relief: 8840 }
    const month = machineMonth(totals([{ ...IDLE, holdS: 50 * H }, start]))
    expect(month.measured.runningHours).toBeCloseTo(50, 9)
    expect(month.coverageShare).toBeCloseTo(0.5, 12)
    expect(month.whole?.runningHours).toBeCloseTo(100, 9)
    expect(month.whole?.electricByClass.off.kWh).toBeCloseTo(20, 9)
  })
  it('only stopped hours say nothing of the running ones', () => {
    const month = machineMonth(totals([STOPPED]))
    expect(month.scaled).toBeNull()
    expect(month.whole).toBeNull()
    expect(month.thinCoverage).toBe(true)
  })
})
