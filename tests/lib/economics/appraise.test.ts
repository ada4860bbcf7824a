import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type AppraisalInput, appraise } from '@/lib/economics/appraise'
import { seededRandom } from '@/lib/numeric/random'

/** Annuity of 1 a year over 10 years at 8 % (annuity tables, from memory). */
const ANNUITY_10Y_8PC = 6.710081

const base = (): AppraisalInput => ({
  savedCostPerYear: { value: 1000, low: 800, high: 1200 },
  investment: [600, 900, 1500],
  discountRate: 0.08,
  lifetimeYears: 10,
  wantedPaybackYears: 3,
  random: seededRandom(1),
})

describe('central values', () => {
  const got = appraise(base())
  it('net present value is annuity × saving − likely investment', () => {
    expect(got.netPresentValue?.value).toBeCloseTo(1000 * ANNUITY_10Y_8PC - 900, 2)
  })
  it('payback is likely investment over saving', () => {
    expect(got.paybackYears?.value).toBeCloseTo(0.9, 12)
  })
  it('pays back in time for certain here', () => {
    expect(got.paybackProbability).toBe(1)
  })
  it('the same seed gives the same figures', () => {
    expect(appraise(base())).toEqual(got)
  })
})

describe('intervals', () => {
  it("certain investment: the 95 % interval is the saving's own, times the annuity (normal quantiles)", () => {
    const got = appraise({ ...base(), investment: [900, 900, 900], draws: 40_000 })
    const npv = got.netPresentValue
    expect(npv?.low).toBeCloseTo(800 * ANNUITY_10Y_8PC - 900, -2)
    expect(npv?.high).toBeCloseTo(1200 * ANNUITY_10Y_8PC - 900, -2)
  })
  it('an asymmetric saving gives an asymmetric interval', () => {
    const got = appraise({
      ...base(),
      savedCostPerYear: { value: 1000, low: 900, high: 1600 },
      investment: [0, 0, 0],
      draws: 40_000,
    })
    const npv = got.netPresentValue
    expect((npv?.high ?? 0) - (npv?.value ?? 0)).toBeGreaterThan(4 * ((npv?.value ?? 0) - (npv?.low ?? 0)))
  })
  it('certain saving: quantiles of the triangle by its distribution function', () => {
    const saving = { value: 1000, low: 1000, high: 1000 }
    const got = appraise({ ...base(), savedCostPerYear: saving, draws: 40_000 })
    // Triangle 600/900/1500: F(x) = (x-600)²/(900·300) below the peak, 1-(1500-x)²/(900·600) above.
    const low = 600 + Math.sqrt(0.025 * 900 * 300)
    const high = 1500 - Math.sqrt(0.025 * 900 * 600)
    expect(got.paybackYears?.low).toBeCloseTo(low / 1000, 2)
    expect(got.paybackYears?.high).toBeCloseTo(high / 1000, 2)
  })
  it("payback probability against the triangle's distribution function", () => {
    const saving = { value: 1000, low: 1000, high: 1000 }
    const got = appraise({ ...base(), savedCostPerYear: saving, wantedPaybackYears: 0.9, draws: 40_000 })
    expect(got.paybackProbability).toBeCloseTo(300 / 900, 2)
  })
  it('hold the central value, always', () => {
    const amounts = fc.tuple(
      fc.double({ min: -2000, max: 5000, noNaN: true }),
      fc.double({ min: 0, max: 2000, noNaN: true }),
      fc.double({ min: 0, max: 5000, noNaN: true }),
      fc.double({ min: 0, max: 5000, noNaN: true }),
      fc.integer(),
    )
    fc.assert(
      fc.property(amounts, ([value, half, low, span, seed]) => {
        const got = appraise({
          ...base(),
          savedCostPerYear: { value, low: value - half, high: value + half },
          investment: [low, low + span, low + span],
          random: seededRandom(seed),
          draws: 50,
        })
        for (const estimate of [got.netPresentValue, got.paybackYears]) {
          if (estimate === null) continue
          expect(Number.isFinite(estimate.low) && Number.isFinite(estimate.high)).toBe(true)
          expect(estimate.low).toBeLessThanOrEqual(estimate.value)
          expect(estimate.high).toBeGreaterThanOrEqual(estimate.value)
        }
      }),
      { numRuns: 60 },
    )
  })
})

describe('no data', () => {
  it('an unknown investment leaves everything unknown', () => {
    expect(appraise({ ...base(), investment: null })).toEqual({
      netPresentValue: null,
      paybackYears: null,
      internalRateOfReturn: null,
      paybackProbability: null,
    })
  })
  it('no saving never pays back, and its net present value is the loss', () => {
    const got = appraise({ ...base(), savedCostPerYear: { value: -10, low: -10, high: -10 } })
    expect(got.paybackYears).toBeNull()
    expect(got.internalRateOfReturn).toBeNull()
    expect(got.paybackProbability).toBe(0)
    expect(got.netPresentValue?.value).toBeCloseTo(-10 * ANNUITY_10Y_8PC - 900, 3)
  })
  it('a saving that may be nothing has no bounded payback, but a probability', () => {
    const got = appraise({ ...base(), savedCostPerYear: { value: 300, low: -300, high: 900 } })
    expect(got.paybackYears).toBeNull()
    expect(got.paybackProbability).toBeGreaterThan(0.2)
    expect(got.paybackProbability).toBeLessThan(0.8)
  })
})
