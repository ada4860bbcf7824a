import { describe, expect, it } from 'vitest'
import { lengthFor } from '@/lib/logging-plan/length'
import { halfShareOfMean, unitsNeeded } from '@/lib/logging-plan/sample-size'
import type { Scatter } from '@/lib/logging-plan/scatter'
import { shiftsOf, visitsFor } from '@/lib/logging-plan/visits'

/** t of a 95 % interval from the usual handbook table (from memory). */
const T = { 7: 2.365, 8: 2.306, 16: 2.12, 17: 2.11 }

describe('units needed for a mean', () => {
  it('is the fewest whose standard error times t fits', () => {
    // s = 20 %: 17 give 2.120 · 20 / √17 = 10.28 %, 18 give 2.110 · 20 / √18 = 9.95 %.
    expect(halfShareOfMean(0.2, 17)).toBeCloseTo((T[16] * 0.2) / Math.sqrt(17), 4)
    expect(halfShareOfMean(0.2, 18)).toBeCloseTo((T[17] * 0.2) / Math.sqrt(18), 4)
    expect(unitsNeeded(0.2, 0.1)).toBe(18)
    // s = 10 %: 8 give 2.365 · 10 / √8 = 8.36 %, 9 give 2.306 · 10 / √9 = 7.69 %.
    expect(unitsNeeded(0.1, (T[8] * 0.1) / 3 + 1e-4)).toBe(9)
    expect(unitsNeeded(0.1, (T[7] * 0.1) / Math.sqrt(8) + 1e-4)).toBe(8)
  })
  it('is two where nothing scatters, and none where nothing would do', () => {
    expect(unitsNeeded(0, 0.1)).toBe(2)
    expect(unitsNeeded(0.2, 0)).toBeNull()
    expect(unitsNeeded(5, 0.001)).toBeNull()
  })
  it('the interval of a mean of normal draws holds the truth 95 times in 100', () => {
    // A seeded draw: 2,000 means of 6, t(5).
    let state = 7
    const uniform = () => {
      state = (state * 48_271) % 2_147_483_647
      return state / 2_147_483_647
    }
    const draw = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
    let held = 0
    for (let k = 0; k < 2000; k++) {
      const values = Array.from({ length: 6 }, () => 10 + draw())
      const mean = values.reduce((sum, value) => sum + value, 0) / 6
      const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 5)
      if (Math.abs(mean - 10) <= halfShareOfMean(sd / mean, 6) * mean) held++
    }
    expect(held / 2000).toBeGreaterThan(0.935)
    expect(held / 2000).toBeLessThan(0.965)
  })
})

const scatter = (level: Scatter['level'], shareSd: number, runningS: number): Scatter => ({
  level,
  shareSd,
  runningS,
  seen: 0,
  seenSd: null,
  assumedSd: shareSd,
})
const SCATTERS = [scatter('cycle', 0.2, 60), scatter('hour', 0.2, 3600), scatter('day', 0.1, 28_800)]

describe('length', () => {
  it('leaves for the scatter what sensors and hours do not take', () => {
    // √(10² − 6² − 5²) = √39 = 6.245 %.
    const of = lengthFor(0.1, { sensors: 0.06, hours: 0.05 }, SCATTERS)
    expect(of.room).toBeCloseTo(Math.sqrt(39) / 100, 12)
    expect(of.runningS).toBe(3600 * (of.levels[1].units ?? 0))
  })
  it('cannot be had where sensors and hours alone are wider, however long', () => {
    const of = lengthFor(0.05, { sensors: 0.01, hours: 0.05 }, SCATTERS)
    expect(of).toMatchObject({ room: null, runningS: null, days: null })
    expect(lengthFor(0.2, { sensors: null, hours: 0 }, SCATTERS).runningS).toBeNull()
  })
  it('asks for more where less is wanted, and is the longer of cycles and hours', () => {
    const days = [0.1, 0.2, 0.3].map(
      (wanted) => lengthFor(wanted, { sensors: 0, hours: 0 }, SCATTERS).runningS ?? 0,
    )
    expect(days[0]).toBeGreaterThan(days[1])
    expect(days[1]).toBeGreaterThan(days[2])
    const slow = [scatter('cycle', 0.2, 7200), ...SCATTERS.slice(1)]
    expect(lengthFor(0.1, { sensors: 0, hours: 0 }, slow).runningS).toBe(18 * 7200)
  })
})

describe('visits', () => {
  const length = { ...lengthFor(0.1, { sensors: 0, hours: 0 }, SCATTERS), runningS: 18 * 3600, days: 7 }
  it('cover every shift with every product, on as many days as asked', () => {
    expect(visitsFor(length, { shifts: 2, products: 1 })).toEqual({
      count: 7,
      eachS: (18 * 3600) / 7,
      totalS: 18 * 3600,
      decidedBy: 'days',
    })
    expect(visitsFor(length, { shifts: 3, products: 4 })).toMatchObject({
      count: 12,
      decidedBy: 'clusters',
    })
  })
  it('last an hour at least, and a shift at most', () => {
    const short = visitsFor({ ...length, runningS: 600 }, { shifts: 1, products: 1 })
    expect(short).toMatchObject({ count: 7, eachS: 3600, totalS: 7 * 3600 })
    const long = visitsFor({ ...length, runningS: 80 * 3600 }, { shifts: 1, products: 1 })
    expect(long).toMatchObject({ count: 10, eachS: 8 * 3600, decidedBy: 'length' })
  })
  it('take shifts from planned hours of 2,000 each', () => {
    expect([500, 2000, 4000, 6000, 8700].map(shiftsOf)).toEqual([1, 1, 2, 3, 3])
  })
})
