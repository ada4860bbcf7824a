import { describe, expect, it } from 'vitest'
import { holdMissing } from '@/lib/samples/hold-missing'
import { inFull } from '@/lib/samples/samples'

const NO = Number.NaN
const axis = (count: number, stepS: number, gapAfter = -1, gapS = 0) => ({
  timeS: Float64Array.from(
    { length: count },
    (_, i) => i * stepS + (i > gapAfter && gapAfter >= 0 ? gapS : 0),
  ),
  sampleIntervalS: stepS,
})
const held = (values: number[], stepS: number, gapAfter = -1, gapS = 0) => [
  ...inFull(holdMissing(Float64Array.from(values), axis(values.length, stepS, gapAfter, gapS))),
]

/** Missing is never zero (shared notes on logger files); a short dropout holds the reading before it. */
describe('short dropouts', () => {
  it('hold the reading before them, up to three samples', () => {
    expect(held([5, NO, NO, NO, 7], 1)).toEqual([5, 5, 5, 5, 7])
    expect(held([5, NO, NO, NO, NO, 7], 1)).toEqual([5, NO, NO, NO, NO, 7])
  })
  it('or up to a second where sampling is quick', () => {
    const ten = Array.from({ length: 10 }, () => NO)
    expect(held([5, ...ten, 7], 0.1)).toEqual([5, ...ten.map(() => 5), 7])
    expect(
      held([5, ...ten, NO, 7], 0.1)
        .slice(1, 12)
        .every(Number.isNaN),
    ).toBe(true)
  })
  it('at the end hold too, and at the start take the first reading', () => {
    expect(held([5, 6, NO], 1)).toEqual([5, 6, 6])
    expect(held([NO, NO, 6], 1)).toEqual([6, 6, 6])
  })
  it('that span a gap are left missing', () => {
    expect(held([5, NO, NO, 7], 1, 1, 30)).toEqual([5, NO, NO, 7])
  })
  it('right behind a gap do not take the reading from before it', () => {
    expect(held([5, 6, NO, 7], 1, 1, 30)[2]).not.toBe(6)
  })
  it('never become zero, and a column without a reading stays without', () => {
    expect(held([NO, NO, NO], 1)).toEqual([NO, NO, NO])
    expect(held(Array(50).fill(NO), 1).every(Number.isNaN)).toBe(true)
  })
  it('the samples given are not changed', () => {
    const values = Float64Array.of(1, NO, 3)
    holdMissing(values, axis(3, 1))
    expect(values[1]).toBeNaN()
  })
})
