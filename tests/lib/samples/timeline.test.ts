import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { timeline } from '@/lib/samples/timeline'

describe('timeline', () => {
  it('holds each sample until the next, the last for one interval', () => {
    const { sampleIntervalS, holdS, gaps } = timeline(Float64Array.of(0, 1, 2, 3))
    expect(sampleIntervalS).toBe(1)
    expect(Array.from(holdS)).toEqual([1, 1, 1, 1])
    expect(gaps).toEqual([])
  })
  it('ends a hold one interval before a gap', () => {
    const { holdS, gaps } = timeline(Float64Array.of(0, 1, 2, 12, 13, 14))
    expect(Array.from(holdS)).toEqual([1, 1, 1, 1, 1, 1])
    expect(gaps).toEqual([{ startS: 3, endS: 12 }])
  })
  it('bridges a step of 2.5 intervals and no longer one', () => {
    expect(timeline(Float64Array.of(0, 1, 2, 4.5, 5.5)).gaps).toEqual([])
    expect(timeline(Float64Array.of(0, 1, 2, 4.6, 5.6)).gaps).toHaveLength(1)
  })
  it('knows one sample and none', () => {
    expect(timeline(new Float64Array(0))).toEqual({
      sampleIntervalS: 0,
      holdS: new Float64Array(0),
      gaps: [],
    })
    expect(timeline(Float64Array.of(0)).gaps).toEqual([])
  })
  it('finds the interval of a long axis', () => {
    const timeS = Float64Array.from({ length: 200_000 }, (_, i) => i / 10 + (i > 100_000 ? 500 : 0))
    const { sampleIntervalS, gaps } = timeline(timeS)
    expect(sampleIntervalS).toBe(0.1)
    expect(gaps).toHaveLength(1)
  })
  it('holds and gaps fill the span exactly', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 20, noNaN: true }), { minLength: 2, maxLength: 80 }),
        (steps) => {
          let at = 0
          const timeS = Float64Array.from([0, ...steps.map((step) => (at += step))])
          const { holdS, gaps, sampleIntervalS } = timeline(timeS)
          const held = holdS.reduce((sum, hold) => sum + hold, 0)
          const idle = gaps.reduce((sum, gap) => sum + gap.endS - gap.startS, 0)
          expect(held + idle).toBeCloseTo(timeS[timeS.length - 1] + sampleIntervalS, 6)
        },
      ),
    )
  })
})
