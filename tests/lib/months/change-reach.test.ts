import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { changeInputs } from '@/lib/months/change-inputs'
import { changeReach, meanReach } from '@/lib/months/change-reach'
import { seededRandom } from '@/lib/numeric/random'
import { DAY_HOURS, DAYS, LOGGED, normal, summaryOf } from './simulated-month'

const even = (reach: number) => ({ below: reach, above: reach })

describe('by hand', () => {
  it('3 and 4 kWh are off by 5 together; money by each month’s price', () => {
    const reach = changeReach({ reach: even(3), pricePerKWh: 0.5 }, { reach: even(4), pricePerKWh: 0.25 })
    expect(reach?.kWh).toEqual({ below: 5, above: 5 })
    expect(reach?.cost.above).toBeCloseTo(Math.hypot(1.5, 1), 12)
  })
  it('a month that may have been less leaves the change more: sides cross', () => {
    const reach = changeReach(
      { reach: { below: 0, above: 6 }, pricePerKWh: 1 },
      { reach: { below: 8, above: 0 }, pricePerKWh: 1 },
    )
    expect(reach?.kWh).toEqual({ below: 10, above: 0 })
  })
  it('is not known where a side is not, nor where one of several months is not', () => {
    expect(changeReach({ reach: null, pricePerKWh: 1 }, { reach: even(1), pricePerKWh: 1 })).toBeNull()
    expect(meanReach([even(2), even(4)])).toEqual(even(3))
    expect(meanReach([even(2), null])).toBeNull()
    expect(meanReach([])).toBeNull()
  })
})

const MACHINE = { id: 'a', name: 'A' }
/** A fifth of a year's twelve months of 20 days of 8 h. */
const site = siteSchema.parse({ plannedHoursPerYear: 12 * DAYS * DAY_HOURS, plannedHoursLimitShare: 0 })

/**
 * Two simulated months of a machine, 20 days of 8 h each at 10 and 9 kW ± 1 by day, five days of each logged. The truth
 * is what all days took. Where plates are off in both months alike the interval may hold more than it says, never less.
 */
describe('over simulated pairs of months of which the truth is known', () => {
  const PAIRS = 1500

  function heldShare(seed: number, isSamePlate: boolean): number {
    const random = seededRandom(seed)
    let inside = 0
    for (let n = 0; n < PAIRS; n++) {
      const plate = 0.02 * normal(random)
      const [before, after] = [10, 9].map((kW, k) => {
        const kWh = Array.from({ length: DAYS }, () => DAY_HOURS * (kW + normal(random)))
        const common = isSamePlate || k === 0 ? plate : 0.02 * normal(random)
        const logged = kWh.slice(0, LOGGED).map((one) => one * (1 + common + 0.01 * normal(random)))
        return { truth: kWh.reduce((sum, one) => sum + one, 0), summary: summaryOf(logged) }
      })
      const reference = { months: [{ month: '2026-02', summary: before.summary }] }
      const found = changeInputs('2026-03', MACHINE, after.summary, reference, 'idle', site)
      const { reach, change } = found ?? expect.fail('both months ran')
      const { below, above } = reach?.kWh ?? expect.fail('both are known')
      const truth = after.truth - before.truth
      if (change.kWh.change - below <= truth && truth <= change.kWh.change + above) inside += 1
    }
    return inside / PAIRS
  }

  it('plates that differ, as after a part was replaced: about 95 times in 100', () => {
    const share = heldShare(5, false)
    expect(share).toBeGreaterThan(0.94)
    expect(share).toBeLessThan(0.99)
  })
  it('the same plates: at least as often', () => {
    expect(heldShare(6, true)).toBeGreaterThan(0.95)
  })
})
