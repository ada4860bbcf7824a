import { standardDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { noiseSd } from '@/lib/numeric/noise'
import { normal, seededRandom } from '@/lib/numeric/random'

const noise = (count: number, sd: number, seed: number) => {
  const random = seededRandom(seed)
  return Float64Array.from({ length: count }, () => sd * normal(random))
}

describe('noise of a signal', () => {
  it('is the standard deviation of normal noise (simple-statistics), at any level', () => {
    for (const sd of [0.001, 1, 5000]) {
      const values = noise(20_000, sd, 3)
      expect(noiseSd(values) / standardDeviation([...values])).toBeCloseTo(1, 1)
    }
  })
  it('is not moved by steps or slow drift, as the standard deviation is', () => {
    const values = noise(10_000, 1, 4).map((value, i) => value + (i % 500 < 250 ? 0 : 100) + i * 0.01)
    expect(noiseSd(values)).toBeGreaterThan(0.9)
    expect(noiseSd(values)).toBeLessThan(1.1)
    expect(standardDeviation([...values])).toBeGreaterThan(40)
  })
  it('leaves out missing samples; nil for a constant, one value or none', () => {
    const values = noise(5000, 2, 5).map((value, i) => (i % 10 === 0 ? Number.NaN : value))
    expect(noiseSd(values) / 2).toBeCloseTo(1, 1)
    expect(noiseSd(new Float64Array(50).fill(7))).toBe(0)
    expect(noiseSd(Float64Array.of(7))).toBe(0)
    expect(noiseSd(new Float64Array(0))).toBe(0)
  })
})
