import { describe, expect, it } from 'vitest'
import { blocksOf } from '@/lib/phases/blocks'
import { lagOf, pressureJumps, withoutLag } from '@/lib/phases/slow-sensors'
import { readerOf } from '@/lib/samples/samples'

/** A first-order lag solved by hand: y' = (x − y)/τ for an x of two levels, sampled. */
const PERIOD_S = 16
const levelAt = (timeS: number) => (timeS % PERIOD_S < PERIOD_S / 2 ? 20 : 80)
function lagging(lagS: number, intervalS: number, count: number): Float64Array {
  let y = 20
  return Float64Array.from({ length: count }, (_, i) => {
    y += (1 - Math.exp(-intervalS / lagS)) * (levelAt(i * intervalS) - y)
    return y
  })
}

describe('slow sensors', () => {
  const cases = [0.01, 0.1, 0.2].flatMap((intervalS) => [1, 1.5, 2].map((lagS) => ({ intervalS, lagS })))
  it.each(cases)('a lag of $lagS s is found when sampled every $intervalS s', ({ intervalS, lagS }) => {
    const count = Math.round((10 * PERIOD_S) / intervalS)
    const pressure = Float64Array.from({ length: count }, (_, i) => levelAt(i * intervalS))
    const starts = Array.from(pressure.keys()).filter((i) => i === 0 || pressure[i] !== pressure[i - 1])
    const jumps = pressureJumps(readerOf(pressure), starts, 60, intervalS)
    expect(jumps).toHaveLength(19)
    expect(lagOf(readerOf(pressure), 60, readerOf(pressure), jumps, intervalS)).toBeNull()
    const slow = lagging(lagS, intervalS, count)
    const found = lagOf(readerOf(slow), 60, readerOf(pressure), jumps, intervalS) ?? Number.NaN
    expect(Math.abs(found / lagS - 1)).toBeLessThan(0.1)
    const [from, to] = [jumps[4], jumps[4] + Math.round(3 / intervalS)]
    const range = { from, to, durationS: (to - from) * intervalS, afterGap: false }
    const mean = slow.subarray(from, to).reduce((sum, value) => sum + value, 0) / (to - from)
    const level = levelAt((from + 1) * intervalS)
    expect(Math.abs(mean - level)).toBeGreaterThan(12)
    const freed = withoutLag({ column: 'a', values: slow, limit: 1 }, range, mean, found, intervalS)
    expect(Math.abs(freed - level)).toBeLessThan(4)
  })
})

describe('a current that follows a load which rises all through a stroke', () => {
  const INTERVAL_S = 0.04
  const STROKE_S = 7
  /** Unloaded at 7 bar and 16 A; a stroke begins at 40 bar and 18.5 A and ends at 90 bar and 25 A, in straight lines. */
  const through = (low: number, from: number, to: number) => (timeS: number) => {
    const strokeS = timeS % PERIOD_S
    return strokeS < STROKE_S ? from + ((to - from) * strokeS) / STROKE_S : low
  }
  it('is no slow meter', () => {
    const count = Math.round((10 * PERIOD_S) / INTERVAL_S)
    const sampled = (of: (timeS: number) => number) =>
      Float64Array.from({ length: count }, (_, i) => of(i * INTERVAL_S + PERIOD_S / 2))
    const pressure = sampled(through(7, 40, 90))
    const current = sampled(through(16, 18.5, 25))
    const starts = Array.from(pressure.keys()).filter((i) => pressure[i] - pressure[i - 1] > 10)
    const jumps = pressureJumps(readerOf(pressure), starts, 83, INTERVAL_S)
    expect(jumps.length).toBeGreaterThan(8)
    expect(lagOf(readerOf(current), 9, readerOf(pressure), jumps, INTERVAL_S)).toBeNull()
    // Held against a pressure that stays where it jumped to, the same current would be taken for one.
    const still = sampled(through(7, 90, 90))
    expect(lagOf(readerOf(current), 9, readerOf(still), jumps, INTERVAL_S)).toBeGreaterThan(1)
  })
})

describe('blocks', () => {
  it('are samples where sampling is slow', () => {
    const blocks = blocksOf(new Uint8Array(5), 0.02)
    const values = readerOf(Float64Array.of(1, 2, 3, 4, 5))
    expect(blocks.means(values)).toBe(values)
  })

  it('are hundredths of a second where it is quick, none across a gap', () => {
    const breaks = new Uint8Array(25)
    breaks[13] = 1
    const blocks = blocksOf(breaks, 0.001)
    expect(Array.from({ length: blocks.count }, (_, b) => blocks.from(b))).toEqual([0, 10, 13, 23])
    expect([...blocks.breaks]).toEqual([0, 0, 1, 0])
    const values = Float64Array.from({ length: 25 }, (_, i) => (i === 4 ? Number.NaN : i))
    const means = blocks.means(readerOf(values))
    expect([...means.between(0, means.length)]).toEqual([41 / 9, 11, 17.5, 23.5])
  })
})
