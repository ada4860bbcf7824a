import { standardDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { normal, seededRandom } from '@/lib/numeric/random'
import { ratioSpread } from '@/lib/numeric/ratio-spread'

describe('spread of a ratio of sums', () => {
  it('is what a bootstrap over the units gives (2,000 resamples, standard deviation by simple-statistics)', () => {
    const random = seededRandom(11)
    const units = 40
    const sizes = Array.from({ length: units }, () => 50 + 20 * random())
    const amounts = sizes.map((size) => size * (3 + 0.6 * normal(random)))
    const ratios = Array.from({ length: 2000 }, () => {
      let amount = 0
      let size = 0
      for (let k = 0; k < units; k++) {
        const drawn = Math.floor(random() * units)
        amount += amounts[drawn]
        size += sizes[drawn]
      }
      return amount / size
    })
    const sum = (list: number[]) => list.reduce((total, one) => total + one, 0)
    const bootstrap = standardDeviation(ratios) / (sum(amounts) / sum(sizes))
    expect((ratioSpread(amounts, sizes) ?? Number.NaN) / bootstrap).toBeCloseTo(1, 1)
  })
  it('by hand: amounts 1, 2, 3 of equal sizes: √(2·3/2)/6', () => {
    expect(ratioSpread([1, 2, 3], [1, 1, 1])).toBeCloseTo(Math.sqrt(3) / 6, 12)
  })
  it('is nil where amounts follow sizes, and where there is nothing', () => {
    expect(ratioSpread([2, 4, 6], [1, 2, 3])).toBeCloseTo(0, 12)
    expect(ratioSpread([0, 0, 0], [1, 2, 3])).toBe(0)
  })
  it('is unknown with two units', () => {
    expect(ratioSpread([1, 2], [1, 1])).toBeNull()
  })
})
