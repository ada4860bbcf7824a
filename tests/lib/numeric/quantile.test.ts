import fc from 'fast-check'
import { quantileSorted } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { quantile } from '@/lib/numeric/quantile'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'

describe('quantile, type 7', () => {
  // numpy.percentile's documented default: [[10, 7, 4], [3, 2, 1]], 50 % → 3.5; R: quantile(1:10, .9) = 9.1.
  it('gives what numpy and R give', () => {
    expect(quantile([10, 7, 4, 3, 2, 1], 0.5)).toBe(3.5)
    expect(quantile([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 0.9)).toBeCloseTo(9.1, 12)
    expect(quantile([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], 0.25)).toBeCloseTo(3.25, 12)
  })
  it('gives what simple-statistics gives', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 1, maxLength: 30 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, share) => {
          const sorted = Float64Array.from(values).sort()
          expect(quantile(values, share)).toBeCloseTo(quantileSorted([...sorted], share), 9)
        },
      ),
    )
  })
  it('ends, one value, none', () => {
    expect(quantile([3, 1, 2], 0)).toBe(1)
    expect(quantile([3, 1, 2], 1)).toBe(3)
    expect(quantile([7], 0.3)).toBe(7)
    expect(quantile([], 0.5)).toBeNaN()
  })
  it('leaves its input alone', () => {
    const values = Float64Array.of(3, 1, 2)
    quantile(values, 0.5)
    expect([...values]).toEqual([3, 1, 2])
  })
})

describe('weighted quantile', () => {
  it('with whole weights is the value of rank ⌈n·p⌉ among the repeated values (type 1 of Hyndman and Fan, 1996)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: 1, max: 5 })), {
          minLength: 1,
          maxLength: 12,
        }),
        fc.constantFrom(0.1, 0.33, 0.77, 0.95),
        (pairs, share) => {
          const repeated = pairs
            .flatMap(([value, weight]) => Array(weight).fill(value) as number[])
            .sort((a, b) => a - b)
          const got = weightedQuantile(
            pairs.map(([value]) => value),
            pairs.map(([, weight]) => weight),
            share,
          )
          expect(got).toBe(repeated[Math.ceil(repeated.length * share) - 1])
        },
      ),
    )
  })
  it('leaves out values without weight and NaN; NaN where nothing is left', () => {
    expect(weightedQuantile([1, 100, Number.NaN], [1, 0, 5], 0.9)).toBe(1)
    expect(weightedQuantile([], [], 0.5)).toBeNaN()
    expect(weightedQuantile([1], [0], 0.5)).toBeNaN()
  })
})
