import { describe, expect, it } from 'vitest'
import { effectiveCount, lagOne } from '@/lib/numeric/autocorrelation'
import { normal, seededRandom } from '@/lib/numeric/random'

describe('correlation of neighbours', () => {
  it('by hand: 1 2 3 4 5 around 3 gives (2·1 + 1·0 + 0·1 + 1·2)/10', () => {
    expect(lagOne([[1, 2, 3, 4, 5]])).toBeCloseTo(0.4, 12)
  })

  it('does not look across the ends of stretches, and is nil where nothing varies', () => {
    expect(lagOne([[1], [5], [1], [5]])).toBe(0)
    expect(lagOne([[2, 2, 2]])).toBe(0)
  })

  it('finds the coefficient of a process of first order', () => {
    const random = seededRandom(4)
    let value = 0
    const values = Array.from({ length: 20_000 }, () => {
      value = 0.6 * value + normal(random)
      return value
    })
    expect(lagOne([values])).toBeCloseTo(0.6, 1)
    // The variance of its mean is that of so many independent values: (1 − ρ)/(1 + ρ) of them.
    expect(effectiveCount(1000, 0.6)).toBeCloseTo(250, 9)
  })

  it('takes a negative correlation for none', () => {
    expect(effectiveCount(40, -0.3)).toBe(40)
  })
})
