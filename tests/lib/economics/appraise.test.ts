import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type AppraisalInput, appraise } from '@/lib/economics/appraise'
import { standardDraws } from '@/lib/economics/draws'
import { seededRandom } from '@/lib/numeric/random'

/** Annuity of 1 a year over 10 years at 8 % (annuity tables, from memory). */
const ANNUITY_10Y_8PC = 6.710081

const FEW = standardDraws(seededRandom(1))
const MANY = standardDraws(seededRandom(1), 40_000)

/** 5000 kWh a year at 0.2: 1000 a year, with no doubt but the saving's and the investment's. */
const base = (): AppraisalInput => ({
  savedKWh: { value: 5000, low: 4000, high: 6000 },
  pricePerKWh: 0.2,
  demandCostPerKWh: 0,
  maintenance: [0, 0, 0],
  investment: [600, 900, 1500],
  hoursLimitShare: 0,
  priceLimitShare: 0,
  discountRate: 0.08,
  lives: [{ share: 1, years: 10 }],
  wantedPaybackYears: 3,
  draws: FEW,
})
const sure = (value: number) => ({ value, low: value, high: value })

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
    const got = appraise({ ...base(), investment: [900, 900, 900], draws: MANY })
    const npv = got.netPresentValue
    expect(npv?.low).toBeCloseTo(800 * ANNUITY_10Y_8PC - 900, -2)
    expect(npv?.high).toBeCloseTo(1200 * ANNUITY_10Y_8PC - 900, -2)
  })
  it('an asymmetric saving gives an asymmetric interval', () => {
    const got = appraise({
      ...base(),
      savedKWh: { value: 5000, low: 4500, high: 8000 },
      investment: [0, 0, 0],
      draws: MANY,
    })
    const npv = got.netPresentValue
    expect((npv?.high ?? 0) - (npv?.value ?? 0)).toBeGreaterThan(4 * ((npv?.value ?? 0) - (npv?.low ?? 0)))
  })
  it('certain saving: quantiles of the triangle by its distribution function', () => {
    const got = appraise({ ...base(), savedKWh: sure(5000), draws: MANY })
    // Triangle 600/900/1500: F(x) = (x-600)²/(900·300) below the peak, 1-(1500-x)²/(900·600) above.
    const low = 600 + Math.sqrt(0.025 * 900 * 300)
    const high = 1500 - Math.sqrt(0.025 * 900 * 600)
    expect(got.paybackYears?.low).toBeCloseTo(low / 1000, 2)
    expect(got.paybackYears?.high).toBeCloseTo(high / 1000, 2)
  })
  it("payback probability against the triangle's distribution function", () => {
    const got = appraise({ ...base(), savedKWh: sure(5000), wantedPaybackYears: 0.9, draws: MANY })
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
          savedKWh: { value, low: value - half, high: value + half },
          investment: [low, low + span, low + span],
          draws: standardDraws(seededRandom(seed), 50),
        })
        const { savedMoneyPerYear, netPresentValue, paybackYears, discountedPaybackYears, costPerSavedKWh } =
          got
        for (const estimate of [
          savedMoneyPerYear,
          netPresentValue,
          paybackYears,
          discountedPaybackYears,
          costPerSavedKWh,
        ]) {
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

describe('each doubt by itself', () => {
  it('the price: normal quantiles of energy cost, and the demand charge stays', () => {
    const got = appraise({
      ...base(),
      savedKWh: sure(5000),
      demandCostPerKWh: 0.04,
      priceLimitShare: 0.1,
      investment: [0, 0, 0],
      draws: MANY,
    })
    expect(got.savedMoneyPerYear.value).toBeCloseTo(1200, 9)
    expect(got.savedMoneyPerYear.low).toBeCloseTo(1100, -1)
    expect(got.savedMoneyPerYear.high).toBeCloseTo(1300, -1)
  })
  it('price and hours apart add in squares: 3 % and 4 % make 5 %', () => {
    const got = appraise({
      ...base(),
      savedKWh: sure(5000),
      hoursLimitShare: 0.03,
      priceLimitShare: 0.04,
      draws: MANY,
    })
    const { low, high } = got.savedMoneyPerYear
    expect((high - low) / 2 / 1000).toBeCloseTo(0.05, 3)
  })
  it("upkeep: quantiles of the triangle by its distribution function, against the saving's sign", () => {
    const got = appraise({ ...base(), savedKWh: sure(5000), maintenance: [0, 100, 200], draws: MANY })
    // Triangle 0/100/200: F(x) = x² / 20000 below its peak.
    const half = 100 - Math.sqrt(0.025 * 20_000)
    expect(got.savedMoneyPerYear.value).toBeCloseTo(900, 9)
    expect(got.savedMoneyPerYear.low).toBeCloseTo(900 - half, -0.5)
    expect(got.savedMoneyPerYear.high).toBeCloseTo(900 + half, -0.5)
  })
})

describe('cost of a saved kWh', () => {
  it('is the investment times the recovery factor and the upkeep, per kWh, by hand', () => {
    const got = appraise({ ...base(), maintenance: [50, 50, 50] })
    expect(got.costPerSavedKWh?.value).toBeCloseTo((900 * 0.149029 + 50) / 5000, 6)
  })
  it('lies below the price exactly where the net present value is a gain', () => {
    const amounts = fc.tuple(
      fc.double({ min: 10, max: 20_000, noNaN: true }),
      fc.double({ min: 1, max: 20_000, noNaN: true }),
      fc.integer({ min: 1, max: 30 }),
    )
    fc.assert(
      fc.property(amounts, ([kWh, cost, years]) => {
        const { netPresentValue, costPerSavedKWh } = appraise({
          ...base(),
          savedKWh: sure(kWh),
          investment: [cost, cost, cost],
          lives: [{ share: 1, years }],
        })
        if (Math.abs(netPresentValue.value) < 1e-6) return
        expect((costPerSavedKWh?.value ?? 0) < 0.2).toBe(netPresentValue.value > 0)
      }),
    )
  })
})

describe('monotone', () => {
  const money = fc.record({
    pricePerKWh: fc.double({ min: 0.01, max: 1, noNaN: true }),
    investment: fc.double({ min: 10, max: 5000, noNaN: true }),
  })
  const of = (pricePerKWh: number, investment: number) =>
    appraise({ ...base(), pricePerKWh, investment: [investment, investment, investment] })
  it('a higher price makes every investment better, and its payback shorter and likelier', () => {
    fc.assert(
      fc.property(
        money,
        fc.double({ min: 1.01, max: 3, noNaN: true }),
        ({ pricePerKWh, investment }, more) => {
          const [less, dear] = [of(pricePerKWh, investment), of(pricePerKWh * more, investment)]
          expect(dear.netPresentValue.value).toBeGreaterThan(less.netPresentValue.value)
          expect(dear.netPresentValue.low).toBeGreaterThan(less.netPresentValue.low)
          expect(dear.paybackYears?.value).toBeLessThan(less.paybackYears?.value ?? 0)
          expect(dear.paybackProbability).toBeGreaterThanOrEqual(less.paybackProbability)
          expect(dear.costPerSavedKWh?.value).toBeCloseTo(less.costPerSavedKWh?.value ?? 0, 12)
        },
      ),
      { numRuns: 40 },
    )
  })
  it('upkeep and investment make it worse, and the saved kWh dearer', () => {
    const cheap = of(0.2, 900)
    const dear = of(0.2, 1100)
    const kept = appraise({ ...base(), maintenance: [10, 20, 30] })
    expect(dear.netPresentValue.value).toBeLessThan(cheap.netPresentValue.value)
    expect(kept.netPresentValue.value).toBeLessThan(appraise(base()).netPresentValue.value)
    expect(dear.costPerSavedKWh?.value).toBeGreaterThan(cheap.costPerSavedKWh?.value ?? 0)
  })
})

describe('no data', () => {
  it('no saving never pays back, and its net present value is the loss', () => {
    const got = appraise({ ...base(), savedKWh: sure(-50) })
    expect(got.paybackYears).toBeNull()
    expect(got.discountedPaybackYears).toBeNull()
    expect(got.costPerSavedKWh).toBeNull()
    expect(got.internalRateOfReturn).toBeNull()
    expect(got.paybackProbability).toBe(0)
    expect(got.netPresentValue.value).toBeCloseTo(-10 * ANNUITY_10Y_8PC - 900, 3)
  })
  it('a saving that may be nothing has no bounded payback, but a probability', () => {
    const got = appraise({ ...base(), savedKWh: { value: 1500, low: -1500, high: 4500 } })
    expect(got.paybackYears).toBeNull()
    expect(got.costPerSavedKWh).toBeNull()
    expect(got.paybackProbability).toBeGreaterThan(0.2)
    expect(got.paybackProbability).toBeLessThan(0.8)
  })
  it('interest that may outgrow the saving leaves the discounted payback without an upper end', () => {
    const got = appraise({ ...base(), savedKWh: sure(500), investment: [600, 900, 1500] })
    expect(got.paybackYears).not.toBeNull()
    expect(got.discountedPaybackYears).toBeNull()
  })
})
