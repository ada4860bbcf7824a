import { mean, quantile, standardDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { normal, seededRandom, triangular } from '@/lib/numeric/random'

const COUNT = 100_000

function draw(one: (random: () => number) => number, seed = 7): number[] {
  const random = seededRandom(seed)
  return Array.from({ length: COUNT }, () => one(random))
}

describe('seeded uniform numbers', () => {
  it('the same seed gives the same numbers, another seed others', () => {
    expect(draw((random) => random()).slice(0, 50)).toEqual(draw((random) => random()).slice(0, 50))
    expect(draw((random) => random(), 8)[0]).not.toBe(draw((random) => random())[0])
  })
  it('lie in [0, 1) with mean 1/2 and variance 1/12', () => {
    const values = draw((random) => random())
    expect(Math.min(...values.slice(0, 10_000))).toBeGreaterThanOrEqual(0)
    expect(values.every((value) => value < 1)).toBe(true)
    expect(mean(values)).toBeCloseTo(0.5, 2)
    expect(standardDeviation(values) ** 2).toBeCloseTo(1 / 12, 2)
  })
  it('fill ten bins evenly: chi-square below 27.88 (9 degrees of freedom, 0.1 %, tables)', () => {
    const bins = new Array<number>(10).fill(0)
    for (const value of draw((random) => random())) bins[Math.floor(value * 10)] += 1
    const expected = COUNT / 10
    const chiSquare = bins.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0)
    expect(chiSquare).toBeLessThan(27.88)
  })
  it('one number says nothing of the next', () => {
    const values = draw((random) => random())
    const products = values.slice(1).map((value, i) => (value - 0.5) * (values[i] - 0.5))
    expect(Math.abs(mean(products) * 12)).toBeLessThan(0.02)
  })
  it('seed 0 and negative seeds work', () => {
    for (const seed of [0, -1])
      expect(new Set(draw((random) => random(), seed)).size).toBeGreaterThan(COUNT / 2)
  })
})

describe('normal draws', () => {
  const values = draw(normal)
  it('have mean 0, standard deviation 1, all finite', () => {
    expect(values.every(Number.isFinite)).toBe(true)
    expect(mean(values)).toBeCloseTo(0, 1)
    expect(standardDeviation(values)).toBeCloseTo(1, 1)
  })
  it.each([
    [0.025, -1.959964],
    [0.5, 0],
    [0.8413447, 1],
    [0.975, 1.959964],
  ])('share %d lies below %d (normal tables)', (share, z) => {
    expect(Math.abs(quantile(values, share) - z)).toBeLessThan(0.03)
  })
})

describe('triangular draws', () => {
  const values = draw((random) => triangular(random, 600, 900, 1500))
  it('have mean (a+b+c)/3 and variance (a²+b²+c²-ab-ac-bc)/18', () => {
    expect(mean(values)).toBeCloseTo(1000, -1)
    const variance = (600 ** 2 + 900 ** 2 + 1500 ** 2 - 600 * 900 - 600 * 1500 - 900 * 1500) / 18
    expect(Math.abs(standardDeviation(values) - Math.sqrt(variance))).toBeLessThan(2)
  })
  it('stay inside and have a third below the likely value', () => {
    expect(values.every((value) => value >= 600 && value <= 1500)).toBe(true)
    expect(values.filter((value) => value < 900).length / COUNT).toBeCloseTo(1 / 3, 2)
  })
  it('without width are the likely value', () => {
    expect(triangular(seededRandom(1), 5, 5, 5)).toBe(5)
  })
  it('with the likely value at an end stay inside', () => {
    const skewed = draw((random) => triangular(random, 0, 0, 1))
    expect(skewed.every((value) => value >= 0 && value <= 1)).toBe(true)
    expect(mean(skewed)).toBeCloseTo(1 / 3, 2)
  })
})
