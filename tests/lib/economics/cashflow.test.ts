import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  capitalRecoveryFactor,
  discountedPaybackYears,
  irr,
  npv,
  simplePaybackYears,
  unitSavingFlows,
  worthOfOneAYear,
} from '@/lib/economics/cashflow'

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

describe('discounted payback', () => {
  it('8000 paid off by 150 a month at 7 % a year takes 64.07335 months (numpy-financial, documented example of nper, from memory)', () => {
    expect(discountedPaybackYears(0.07 / 12, 8000 / 150)).toBeCloseTo(64.07335, 5)
  })
  it('without interest it is the simple one', () => {
    expect(discountedPaybackYears(0, 4.2)).toBeCloseTo(4.2, 12)
  })
  it('never comes where the interest outgrows the saving', () => {
    expect(discountedPaybackYears(0.1, 10)).toBeNull()
    expect(discountedPaybackYears(0.1, 12)).toBeNull()
  })
  it('over exactly that time the savings are worth the investment', () => {
    // 3 years of 1000 at 10 % are worth 1000 · (1 − 1.1⁻³) / 0.1 = 2486.85: by hand.
    expect(discountedPaybackYears(0.1, 2.486852)).toBeCloseTo(3, 5)
  })
  it('is never shorter than the simple one and rises with it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        (rate, years) => {
          const one = discountedPaybackYears(rate, years) ?? Number.NaN
          const more = discountedPaybackYears(rate, years * 1.1) ?? Number.NaN
          expect(one).toBeGreaterThanOrEqual(years * (1 - 1e-6))
          expect(more).toBeGreaterThan(one)
        },
      ),
    )
  })
})

describe('capital recovery factor', () => {
  it('a loan of 200,000 at 7.5 % over 15 years costs 1854.0247 a month (numpy-financial, documented example of pmt, from memory)', () => {
    expect(200_000 * capitalRecoveryFactor(0.075 / 12, 12 * 15)).toBeCloseTo(1854.0247, 4)
  })
  it('8 % over 10 years, by hand: 0.08 · 1.08¹⁰ / (1.08¹⁰ − 1) = 0.149029', () => {
    expect(capitalRecoveryFactor(0.08, 10)).toBeCloseTo(0.149029, 6)
  })
  it('without interest it is one over the life', () => {
    expect(capitalRecoveryFactor(0, 8)).toBeCloseTo(0.125, 12)
  })
  it('is one over the worth of 1 a year, for whole years', () => {
    expect(capitalRecoveryFactor(0.06, 12) * worthOfOneAYear(0.06, 12)).toBeCloseTo(1, 9)
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
