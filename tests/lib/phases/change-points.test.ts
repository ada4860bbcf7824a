import { describe, expect, it } from 'vitest'
import { normal, seededRandom } from '@/lib/numeric/random'
import { changePoints } from '@/lib/phases/change-points'
import { readerOf } from '@/lib/samples/samples'

/** Cumulative sums find a change of mean (Page, Biometrika 41, 1954); where it lies is known here by construction. */
const noisy = (levels: readonly (readonly [count: number, level: number])[], sd: number, seed: number) => {
  const random = seededRandom(seed)
  return Float64Array.from(
    levels.flatMap(([count, level]) => Array.from({ length: count }, () => level + sd * normal(random))),
  )
}
const none = (count: number) => new Uint8Array(count)

describe('change points', () => {
  const steps = (size: number) => [0, size, 0].map((level) => [150, level] as const)
  const nearest = (starts: Int32Array, at: number) =>
    Math.min(...Array.from(starts, (one) => Math.abs(one - at)))

  it.each([8, 20, 100])('of %f standard deviations lie on the sample', (size) => {
    let extra = 0
    for (let seed = 1; seed <= 50; seed++) {
      const starts = changePoints([{ values: readerOf(noisy(steps(size), 1, seed)), sd: 1 }], none(450))
      expect(nearest(starts, 150)).toBe(0)
      expect(nearest(starts, 300)).toBe(0)
      extra += starts.length - 3
    }
    // A false one now and then splits a stretch and makes no phase.
    expect(extra).toBeLessThanOrEqual(5)
  })

  it('of three standard deviations lie within five samples of it', () => {
    for (let seed = 1; seed <= 50; seed++) {
      const starts = changePoints([{ values: readerOf(noisy(steps(3), 1, seed)), sd: 1 }], none(450))
      expect(nearest(starts, 150)).toBeLessThanOrEqual(5)
    }
  })

  it('noise alone makes fewer than one false change in 5000 samples', () => {
    let found = 0
    for (let seed = 1; seed <= 10; seed++) {
      const values = noisy([[10_000, 5]], 1, seed)
      found += changePoints([{ values: readerOf(values), sd: 1 }], none(10_000)).length - 1
    }
    expect(found).toBeLessThan(20)
  })

  it('any channel may tell, and one that is silent says nothing', () => {
    const still = new Float64Array(200).fill(3)
    const stepped = noisy(
      [
        [100, 0],
        [100, 50],
      ],
      1,
      2,
    )
    const silent = new Float64Array(200).fill(Number.NaN)
    const channels = [still, silent, stepped].map((values) => ({ values: readerOf(values), sd: 1 }))
    expect([...changePoints(channels, none(200))]).toEqual([0, 100])
  })

  it('starts anew after every gap, and never looks back over one', () => {
    const breaks = none(200)
    breaks[120] = 1
    const values = new Float64Array(200).fill(4).fill(40, 121)
    expect([...changePoints([{ values: readerOf(values), sd: 1 }], breaks)]).toEqual([0, 120, 121])
  })

  it('nothing sampled, nothing found', () => {
    expect([...changePoints([], none(0))]).toEqual([])
  })
})
