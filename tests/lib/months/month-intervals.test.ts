import { describe, expect, it } from 'vitest'
import { FIGURES } from '@/lib/months/figures'
import type { LogDay, LogMonth } from '@/lib/months/log-month'
import { monthReach, weightsOf } from '@/lib/months/month-intervals'
import { type MonthSpread, reachOf, sumSpreads } from '@/lib/months/month-spread'
import { type CountedTotals, summarise } from '@/lib/months/summary'
import { seededRandom } from '@/lib/numeric/random'
import { NO_ENERGY } from '../../invented/no-energy'

const ELECTRIC = weightsOf('electric')
const H = 3600
const KWH = 3.6e6

/** Off by `own` kWh by itself and `shared` kWh with all others (1 sd), in electric input alone. */
function spreadOf(own: number, shared: number): MonthSpread {
  const independent = new Array<number>(FIGURES.length ** 2).fill(0)
  independent[0] = own ** 2
  return {
    independent,
    shared: FIGURES.map((_, k) => [k === 0 ? shared : 0]),
    ends: [[FIGURES.map(() => 0), FIGURES.map(() => 0)]],
  }
}

describe('the interval of a sum of logs, by hand', () => {
  const sum = (logs: readonly MonthSpread[]) => reachOf(sumSpreads(logs) ?? expect.fail('no logs'), ELECTRIC)
  it('what each log is off by alone adds in squares: 4 logs of 3 kWh are off by 6', () => {
    expect(sum(Array.from({ length: 4 }, () => spreadOf(3, 0))).above).toBeCloseTo(1.96 * 6, 9)
  })
  it('what all share adds as it is: 4 logs of 3 kWh are off by 12', () => {
    expect(sum(Array.from({ length: 4 }, () => spreadOf(0, 3))).below).toBeCloseTo(1.96 * 12, 9)
  })
  it('an end that reaches up only widens the upper side', () => {
    const skewed = { ...spreadOf(0, 0), ends: [[FIGURES.map(() => -1), FIGURES.map(() => 7)]] }
    expect(sum([skewed, skewed])).toEqual({ below: 2, above: 14 })
  })
})

const day = (date: string, hours: number, kWh: number): LogDay => ({
  date,
  runningS: hours * H,
  kWh: FIGURES.map((_, k) => (k === 0 ? kWh : 0)),
})

/** A month of one log on some days, with rows that say the same. */
function summaryOf(days: readonly LogDay[], spread: MonthSpread) {
  const sum = (of: (one: LogDay) => number) => days.reduce((total, one) => total + of(one), 0)
  const row: CountedTotals = {
    ...NO_ENERGY,
    phaseKind: 'idle-loaded',
    seconds: sum((one) => one.runningS),
    electricJ: sum((one) => (one.kWh[0] ?? 0) * KWH),
  }
  const log: LogMonth = {
    month: '2026-03',
    spans: [],
    days,
    spread,
    peakW: null,
    reactive: null,
    leftOutS: 0,
  }
  return summarise([row], [log])
}

/**
 * Months of 20 planned days of 8 h, each day's rate drawn about 10 kW ± 2; some days are logged by logs that are each off
 * by 1 % and all by 1 %. The truth is what all 20 days took.
 */
describe('over simulated months of which the truth is known', () => {
  const MONTHS = 2000
  const DAYS = 20
  const normal = (random: () => number) =>
    Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())

  it.each([2, 3, 5, 10])('the whole month with %i days logged holds it 95 times in 100', (logged) => {
    const random = seededRandom(41 + logged)
    let inside = 0
    for (let n = 0; n < MONTHS; n++) {
      const rates = Array.from({ length: DAYS }, () => 10 + 2 * normal(random))
      const truth = rates.reduce((sum, rate) => sum + 8 * rate, 0)
      const common = 0.01 * normal(random)
      const days = rates.slice(0, logged).map((rate, k) => {
        const off = 1 + common + 0.01 * normal(random)
        return { kWh: 8 * rate * off, date: `2026-03-${String(k + 1).padStart(2, '0')}` }
      })
      const spread =
        sumSpreads(days.map(({ kWh }) => spreadOf(0.01 * kWh, 0.01 * kWh))) ?? expect.fail('none')
      const summary = summaryOf(
        days.map(({ date, kWh }) => day(date, 8, kWh)),
        spread,
      )
      const limits = { plannedHours: 8 * DAYS, plannedHoursLimitShare: 0 }
      const { whole } = monthReach(summary, ELECTRIC, limits)
      const value = (days.reduce((sum, { kWh }) => sum + kWh, 0) * DAYS) / logged
      const reach = whole ?? expect.fail('it ran')
      if (value - reach.below <= truth && truth <= value + reach.above) inside += 1
    }
    expect(inside / MONTHS).toBeGreaterThan(0.935)
    expect(inside / MONTHS).toBeLessThan(0.975)
  })

  it('a single day says how wide it guesses: 15 % of the rate, 1 sd', () => {
    const summary = summaryOf([day('2026-03-02', 8, 80)], spreadOf(0, 0))
    const reach = monthReach(summary, ELECTRIC, { plannedHours: 160, plannedHoursLimitShare: 0 })
    expect(reach.scaled?.above).toBeCloseTo(1.96 * 0.15 * 10 * 152, 6)
    expect(reach.measured.above).toBe(0)
  })
  it('the doubt of planned hours widens the scaled part alone', () => {
    const summary = summaryOf([day('2026-03-02', 8, 80), day('2026-03-03', 8, 80)], spreadOf(0, 0))
    const reach = monthReach(summary, ELECTRIC, { plannedHours: 160, plannedHoursLimitShare: 0.05 })
    expect(reach.scaled?.above).toBeCloseTo(0.05 * 160 * 10, 6)
    expect(reach.scaledParts).toMatchObject({ rates: 0, days: 0 })
  })
})
