import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Named, tornadoes } from '@/lib/economics/tornado'

/** Annuities of 1 a year over 10 years at 6, 8 and 10 %, over 8 and 12 years at 8 % (annuity tables, from memory). */
const ANNUITY = { '6': 7.360087, '8': 6.710081, '10': 6.144567, '8 years': 5.746639, '12 years': 7.536078 }

const prospect = (id: string, part: Partial<Named<string>> = {}): Named<string> => ({
  id,
  savedKWh: { value: 5000, low: 4000, high: 7000 },
  pricePerKWh: 0.2,
  demandCostPerKWh: 0,
  maintenance: [0, 0, 0],
  investment: [600, 900, 1500],
  hoursLimitShare: 0.05,
  priceLimitShare: 0.1,
  discountRate: 0.08,
  lives: [{ share: 1, years: 10 }],
  plannedHours: 4000,
  discountRateLimit: 0.02,
  lifetimeLimitShare: 0.2,
  lifeIsShared: true,
  movesAlong: () => 0,
  ...part,
})
const swingsOf = (options: Named<string>[], id = 'a') => tornadoes(options).get(id) ?? []
const swing = (assumption: string, options = [prospect('a')]) => {
  const found = swingsOf(options).find((one) => one.assumption === assumption)
  if (!found) throw new Error(assumption)
  return found
}

describe('each assumption alone, by hand', () => {
  it.each([
    ['price', 900, 1100, 0.18, 0.22],
    ['hours', 950, 1050, 3800, 4200],
    ['saving', 800, 1400, 4000, 7000],
  ])('%s: annuity × saving less the investment', (assumption, low, high, lowAt, highAt) => {
    const got = swing(assumption)
    expect(got.low).toBeCloseTo(low * ANNUITY['8'] - 900, 2)
    expect(got.high).toBeCloseTo(high * ANNUITY['8'] - 900, 2)
    expect(got.lowAt).toBeCloseTo(lowAt, 9)
    expect(got.highAt).toBeCloseTo(highAt, 9)
  })
  it('investment: quantiles of the triangle, the high one giving the low worth', () => {
    const got = swing('investment')
    const least = 600 + Math.sqrt(0.025 * 900 * 300)
    const most = 1500 - Math.sqrt(0.025 * 900 * 600)
    expect([got.lowAt, got.highAt]).toEqual([expect.closeTo(most, 9), expect.closeTo(least, 9)])
    expect(got.low).toBeCloseTo(1000 * ANNUITY['8'] - most, 2)
  })
  it('discount rate and life: other annuities', () => {
    const rate = swing('discount-rate')
    expect(rate.low).toBeCloseTo(1000 * ANNUITY['10'] - 900, 2)
    expect(rate.high).toBeCloseTo(1000 * ANNUITY['6'] - 900, 2)
    const life = swing('life')
    expect(life.low).toBeCloseTo(1000 * ANNUITY['8 years'] - 900, 2)
    expect(life.high).toBeCloseTo(1000 * ANNUITY['12 years'] - 900, 2)
    expect([life.lowAt, life.highAt]).toEqual([8, 12])
  })
  it('hours and price leave the demand charge alone', () => {
    const got = swing('hours', [prospect('a', { demandCostPerKWh: 0.1 })])
    expect(got.high - got.low).toBeCloseTo(100 * ANNUITY['8'], 2)
  })
})

describe('order and ranking', () => {
  it('widest swing first; upkeep only where it is in doubt', () => {
    const swings = swingsOf([prospect('a')])
    const widths = swings.map(({ low, high }) => high - low)
    expect(widths).toEqual([...widths].sort((x, y) => y - x))
    expect(swings.map(({ assumption }) => assumption)).not.toContain('maintenance')
    expect(swingsOf([prospect('a', { maintenance: [0, 10, 30] })]).map((one) => one.assumption)).toContain(
      'maintenance',
    )
  })
  it('an option far ahead stays first whatever moves; one that is close does not', () => {
    const far = prospect('b', { savedKWh: { value: 500, low: 450, high: 550 } })
    expect(swingsOf([prospect('a'), far]).some(({ changesFirst }) => changesFirst)).toBe(false)
    const close = prospect('b', { savedKWh: { value: 4900, low: 4900, high: 4900 } })
    expect(swing('saving', [prospect('a'), close]).changesFirst).toBe(true)
  })
  it('what holds for the whole site moves both: alike options keep their order', () => {
    const close = prospect('b', { savedKWh: { value: 4900, low: 4900, high: 4900 } })
    for (const assumption of ['price', 'hours', 'life', 'discount-rate']) {
      expect(swing(assumption, [prospect('a'), close]).changesFirst, assumption).toBe(false)
    }
  })
  it('savings that share their doubts move together: the order of two alike options stays', () => {
    const alike = { movesAlong: () => 1 }
    const close = prospect('b', { ...alike, savedKWh: { value: 4900, low: 3900, high: 6900 } })
    expect(swing('saving', [prospect('a', alike), close]).changesFirst).toBe(false)
    expect(swing('saving', [prospect('a'), close]).changesFirst).toBe(true)
    // Half shared: 1000 kWh less of one are 500 less of the other, 4000 against 4400.
    const half = prospect('a', { movesAlong: () => 0.5 })
    expect(swing('saving', [half, close]).changesFirst).toBe(true)
  })
  it('a dear saver overtakes a cheap one as the price rises', () => {
    const dear = prospect('b', {
      savedKWh: { value: 10_000, low: 10_000, high: 10_000 },
      investment: [7800, 7800, 7800],
    })
    expect(swing('price', [prospect('a'), dear]).changesFirst).toBe(true)
  })
  it('a life of its own moves alone', () => {
    const close = { savedKWh: { value: 4900, low: 4900, high: 4900 } }
    const own = [prospect('a', { lifeIsShared: false }), prospect('b', close)]
    expect(swing('life', own).changesFirst).toBe(true)
  })
})

it('no end lies on the wrong side: low never above the central worth, nor high below', () => {
  const options = fc.record({
    value: fc.double({ min: 1, max: 1e5, noNaN: true }),
    half: fc.double({ min: 0, max: 1e4, noNaN: true }),
    likely: fc.double({ min: 0, max: 1e4, noNaN: true }),
    rate: fc.double({ min: 0, max: 0.3, noNaN: true }),
    years: fc.integer({ min: 1, max: 20 }),
  })
  fc.assert(
    fc.property(options, ({ value, half, likely, rate, years }) => {
      const one = prospect('a', {
        savedKWh: { value, low: value - half, high: value + half },
        investment: [likely * 0.7, likely, likely * 1.6],
        discountRate: rate,
        lives: [{ share: 1, years }],
      })
      for (const { assumption, low, high } of swingsOf([one])) {
        expect(high, assumption).toBeGreaterThanOrEqual(low)
      }
    }),
  )
})
