import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { type ChangeDoubt, changeDoubt, sumChangeReach } from '@/lib/months/change-doubt'
import { changeInputs } from '@/lib/months/change-inputs'
import { narrowMonth } from '@/lib/months/narrow-month'
import { WASTE_KINDS } from '@/lib/months/waste'
import { seededRandom } from '@/lib/numeric/random'
import { DAY_HOURS, DAYS, LOGGED, normal, summaryOf } from './simulated-month'

const MACHINE = { id: 'a', name: 'A' }
const [BEFORE, NOW] = ['2026-02', '2026-03']
const siteWith = (plannedHoursLimitShare: number) =>
  siteSchema.parse({ plannedHoursPerYear: 12 * DAYS * DAY_HOURS, plannedHoursLimitShare })

const even = (reach: number, shared: number) => ({ below: reach, above: reach, shared })
const doubt = (before: number, after: number, shared = 0): ChangeDoubt => ({
  before: { kWh: even(before, shared), cost: even(before / 2, shared / 2) },
  after: { kWh: even(after, shared), cost: even(after / 4, shared / 4) },
})

describe('by hand', () => {
  it('machines add in squares, and both months do: 3, 4 and 12 kWh are off by 13 together', () => {
    const { kWh, cost } = sumChangeReach([doubt(3, 4), doubt(0, 12)])
    expect(kWh.above).toBeCloseTo(13, 12)
    expect(cost.below).toBeCloseTo(Math.hypot(1.5, 1, 3), 12)
  })

  it('what planned hours do to all machines alike adds up within a month: two of 3 are off by 6', () => {
    const { kWh } = sumChangeReach(
      [doubt(3, 0, 3), doubt(3, 0, 3)].map(({ before }) => ({ before, after: doubt(0, 0).after })),
    )
    expect(kWh.above).toBeCloseTo(6, 12)
  })

  it('is nil where nothing is summed', () => {
    expect(sumChangeReach([]).kWh).toEqual({ below: 0, above: 0 })
  })

  it('of one machine and kind is what its own change says', () => {
    const site = siteWith(0.1)
    const [old, fresh] = [summaryOf([80, 82, 79, 81, 85]), summaryOf([70, 72, 75, 71, 69])]
    const own = { month: NOW, narrow: narrowMonth(fresh) }
    const held = [{ month: BEFORE, narrow: narrowMonth(old) }]
    const found = changeDoubt(own, held, ['idle'], MACHINE, site)
    const reference = { months: [{ month: BEFORE, summary: old }] }
    const alone = changeInputs(NOW, MACHINE, fresh, reference, 'idle', site)
    const reach = sumChangeReach([found?.doubt ?? expect.fail('both are known')])
    for (const side of ['below', 'above'] as const) {
      expect(reach.kWh[side]).toBeCloseTo(alone?.reach?.kWh[side] ?? Number.NaN, 9)
      expect(reach.cost[side]).toBeCloseTo(alone?.reach?.cost[side] ?? Number.NaN, 9)
    }
    expect(found?.cost).toBeCloseTo(alone?.change.cost.change ?? Number.NaN, 12)
    // All waste of this machine is its idle input.
    expect(changeDoubt(own, held, WASTE_KINDS, MACHINE, site)).toEqual(found)
  })

  it('is known of no month that an earlier engine rolled up', () => {
    const own = { month: NOW, narrow: narrowMonth(summaryOf([70, 72])) }
    const old = { month: BEFORE, narrow: { ...own.narrow, reach: null } }
    const found = changeDoubt(own, [old], ['idle'], MACHINE, siteWith(0))
    expect(found).toMatchObject({ kWh: expect.any(Number), doubt: null })
  })
})

/**
 * Two simulated months of four machines, 20 days of 8 h each, five days of each logged; plates are each machine's own.
 * With a doubt of planned hours all machines run longer or shorter alike in a month. The truth is what all days took.
 */
describe('over simulated pairs of months of a works, of which the truth is known', () => {
  const PAIRS = 1500
  const SIZES_KW = [10, 20, 5, 15]
  /** 95 % of a normal distribution lie within so many standard deviations. */
  const COVERAGE = 1.96

  function heldShare(seed: number, isSamePlate: boolean, hoursLimitShare: number): number {
    const random = seededRandom(seed)
    const site = siteWith(hoursLimitShare)
    let inside = 0
    for (let n = 0; n < PAIRS; n++) {
      const longer = [0, 1].map(() => 1 + (hoursLimitShare / COVERAGE) * normal(random))
      let [truth, change] = [0, 0]
      const doubts = SIZES_KW.map((size) => {
        const plate = 0.02 * normal(random)
        const [before, after] = [size, 0.9 * size].map((kW, k) => {
          const kWh = Array.from({ length: DAYS }, () => DAY_HOURS * kW * (1 + 0.1 * normal(random)))
          const common = isSamePlate || k === 0 ? plate : 0.02 * normal(random)
          truth += (k === 0 ? -1 : 1) * longer[k] * kWh.reduce((sum, one) => sum + one, 0)
          return narrowMonth(
            summaryOf(kWh.slice(0, LOGGED).map((one) => one * (1 + common + 0.01 * normal(random)))),
          )
        })
        const held = [{ month: BEFORE, narrow: before }]
        const found = changeDoubt({ month: NOW, narrow: after }, held, WASTE_KINDS, MACHINE, site)
        change += found?.kWh ?? expect.fail('both months ran')
        return found?.doubt ?? expect.fail('both are known')
      })
      const { below, above } = sumChangeReach(doubts).kWh
      if (change - below <= truth && truth <= change + above) inside += 1
    }
    return inside / PAIRS
  }

  it('plates that differ from month to month: at least 95 times in 100 (99 with five days logged each, as t is wide)', () => {
    const share = heldShare(7, false, 0)
    expect(share).toBeGreaterThan(0.94)
    expect(share).toBeLessThan(0.99)
  })

  it('the same plates: at least as often', () => {
    expect(heldShare(8, true, 0)).toBeGreaterThan(0.95)
  })

  it('hours that all machines run longer or shorter together: as often', () => {
    const share = heldShare(9, false, 0.1)
    expect(share).toBeGreaterThan(0.94)
    expect(share).toBeLessThan(0.99)
  })
})
