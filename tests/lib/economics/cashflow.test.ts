import { describe, expect, it } from 'vitest'
import { irr, npv, simplePaybackYears, unitSavingFlows } from '@/lib/economics/cashflow'

describe('numpy-financial, documented examples (first flow at t = 0)', () => {
  it('npv', () => {
    expect(npv(0.281, [-100, 39, 59, 55, 20])).toBeCloseTo(-0.0084785916, 9)
    expect(npv(0.08, [-40000, 5000, 8000, 12000, 30000])).toBeCloseTo(3065.22267, 4)
  })
  it('irr', () => {
    expect(irr([-100, 39, 59, 55, 20])).toBeCloseTo(0.28095, 5)
    expect(irr([-100, 0, 0, 74])).toBeCloseTo(-0.0955, 4)
  })
})

describe('irr is null where no rate of return exists', () => {
  it.each([
    ['nothing ever comes back', [-100, -10, -10]],
    ['nothing is spent', [0, 10, 10]],
    ['nothing at all', [0, 0]],
  ])('%s', (_name, flows) => {
    expect(irr(flows)).toBeNull()
  })

  it('never names a rate below -100 %, where the library alone does', () => {
    const flows = [-2000, ...new Array<number>(10).fill(50)]
    const rate = irr(flows)
    expect(rate).not.toBeNull()
    expect(rate).toBeGreaterThan(-1)
    // Definition of the rate: discounted at it, the flows are worth nothing.
    const worth = flows.reduce((sum, flow, year) => sum + flow / (1 + (rate ?? 0)) ** year, 0)
    expect(worth).toBeCloseTo(0, 3)
  })

  it('a hundredfold return in the first year is found', () => {
    expect(irr([-10, 1010])).toBeCloseTo(100, 6)
  })
})

describe('payback', () => {
  it('is investment over saving', () => {
    expect(simplePaybackYears(900, 600)).toBeCloseTo(1.5, 12)
    expect(simplePaybackYears(0, 600)).toBe(0)
  })
  it('never comes without a saving', () => {
    expect(simplePaybackYears(900, 0)).toBeNull()
    expect(simplePaybackYears(900, -5)).toBeNull()
  })
})

describe('lifetime', () => {
  it('a whole lifetime has one flow a year', () => {
    expect(unitSavingFlows(3)).toEqual([0, 1, 1, 1])
  })
  it('a broken year pays its share', () => {
    expect(unitSavingFlows(2.25)).toEqual([0, 1, 1, 0.25])
    expect(unitSavingFlows(0.5)).toEqual([0, 0.5])
  })
  it('annuity of 1 a year over 10 years at 8 % is worth 6.710081 (annuity tables, from memory)', () => {
    expect(npv(0.08, unitSavingFlows(10))).toBeCloseTo(6.710081, 6)
  })
})
