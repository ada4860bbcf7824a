import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'

const pairs = fc.array(
  fc.tuple(
    fc.oneof(fc.integer({ min: -9, max: 9 }), fc.constant(Number.NaN)),
    fc.integer({ min: 0, max: 5 }),
  ),
  { maxLength: 40 },
)

describe('a weighted quantile', () => {
  it('is that of the values each repeated as often as it weighs', () => {
    fc.assert(
      fc.property(pairs, fc.integer({ min: 1, max: 100 }), (of, percent) => {
        const repeated = of
          .flatMap(([value, weight]) => (Number.isNaN(value) ? [] : Array<number>(weight).fill(value)))
          .sort((a, b) => a - b)
        const got = weightedQuantile(
          of.map(([value]) => value),
          of.map(([, weight]) => weight),
          percent / 100,
        )
        const place = Math.ceil((percent * repeated.length) / 100) - 1
        expect(got).toEqual(repeated.length === 0 ? Number.NaN : repeated[place])
      }),
      { numRuns: 500 },
    )
  })

  it('does not hang on the rounding of sums: of equal tenths the lower middle', () => {
    const values = Array.from({ length: 10 }, (_, k) => (k * 7) % 10)
    expect(weightedQuantile(values, Array<number>(10).fill(0.1), 0.5)).toBe(4)
    expect(weightedQuantile(values, Array<number>(10).fill(0.3), 0.3)).toBe(2)
  })
})
