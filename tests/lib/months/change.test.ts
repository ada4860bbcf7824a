import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { monthChange, splitChange } from '@/lib/months/change'
import { machineMonth } from '@/lib/months/month'
import { rollUp } from '@/lib/months/rollup'
import { logOf, type Row } from './log'

describe('splitting a change, by hand', () => {
  it('only hours: 100 h to 150 h at 2 kW', () => {
    const split = splitChange({ hours: 100, amount: 200 }, { hours: 150, amount: 300 })
    expect(split).toEqual({ change: 100, hoursEffect: 100, rateEffect: 0 })
  })
  it('only the rate: 2 kW to 3 kW over 100 h', () => {
    const split = splitChange({ hours: 100, amount: 200 }, { hours: 100, amount: 300 })
    expect(split).toEqual({ change: 100, hoursEffect: 0, rateEffect: 100 })
  })
  it('both: 100 h at 2 kW to 150 h at 4 kW: rate 2·125, hours 50·3', () => {
    const split = splitChange({ hours: 100, amount: 200 }, { hours: 150, amount: 600 })
    expect(split).toEqual({ change: 400, hoursEffect: 150, rateEffect: 250 })
  })
  it('a machine that stood still before: all by hours', () => {
    const split = splitChange({ hours: 0, amount: 0 }, { hours: 10, amount: 50 })
    expect(split).toEqual({ change: 50, hoursEffect: 50, rateEffect: 0 })
  })
})

describe('laws', () => {
  const spent = fc.record({
    hours: fc.double({ min: 0.1, max: 744, noNaN: true }),
    amount: fc.double({ min: 0, max: 1e5, noNaN: true }),
  })
  it('the effects add up to the change, and swapping the months turns the signs', () => {
    fc.assert(
      fc.property(spent, spent, (a, b) => {
        const there = splitChange(a, b)
        const back = splitChange(b, a)
        const size = 1e-9 * Math.max(1, a.amount, b.amount, Math.abs(there.rateEffect))
        expect(Math.abs(there.hoursEffect + there.rateEffect - there.change)).toBeLessThanOrEqual(size)
        expect(Math.abs(there.hoursEffect + back.hoursEffect)).toBeLessThanOrEqual(size)
        expect(Math.abs(there.rateEffect + back.rateEffect)).toBeLessThanOrEqual(size)
      }),
    )
  })
})

describe("a machine's months", () => {
  const site = siteSchema.parse({ plannedHoursPerYear: 1200 })
  const monthOf = (rows: readonly Row[]) => {
    const { log, analysed } = logOf(rows, '2026-03-02T08:00Z')
    const month = machineMonth(rollUp(log, analysed, site), site)
    if (month === null) throw new Error('expected a month')
    return month
  }
  const idle = (kW: number): Row => ({ kind: 'idle-loaded', holdS: 36_000, relief: kW * 1000 - 1160 })

  it('at the same planned hours differ by the rate only: 10 kW to 12 kW over 100 h', () => {
    const change = monthChange(monthOf([idle(10)]), monthOf([idle(12)]))
    expect(change.electric?.rateEffect).toBeCloseTo(200, 6)
    expect(change.electric?.hoursEffect).toBeCloseTo(0, 6)
    expect(change.idle?.change).toBeCloseTo(200, 6)
  })
  it('what is unknown on one side stays unknown', () => {
    const blind: Row = { kind: 'work-moving', holdS: 60, relief: 0, metering: Number.NaN, work: Number.NaN }
    expect(monthChange(monthOf([idle(10)]), monthOf([idle(10), blind])).metering).toBeNull()
  })
})
