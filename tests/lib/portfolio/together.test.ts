import { describe, expect, it } from 'vitest'
import type { Estimate } from '@/lib/contract/estimate'
import { appraise } from '@/lib/economics/appraise'
import { standardDraws } from '@/lib/economics/draws'
import { savedMoney, worthOfSaving } from '@/lib/economics/prospect'
import { quantile } from '@/lib/numeric/quantile'
import { normal, seededRandom, triangular } from '@/lib/numeric/random'
import { together } from '@/lib/portfolio/together'

const SIGMAS_TO_95 = 1.96
const LIMITS = { hoursLimitShare: 0.05, priceLimitShare: 0.1 }

/** A machine's choice; all of them with the same price, hours, rate and life, as machines of one site have. */
const prospectOf = (k: number) => ({
  savedKWh: { value: 4000 + 900 * k, low: 3000 + 700 * k, high: 5000 + 1100 * k },
  pricePerKWh: 0.2,
  demandCostPerKWh: 0,
  maintenance: [0, 0, 0] as const,
  investment: [500 + 100 * k, 900 + 100 * k, 1500 + 120 * k] as const,
  ...LIMITS,
  discountRate: 0.08,
  lives: [{ share: 1, years: 10 }],
})

describe('figures of several machines together', () => {
  it.each([1, 2, 8, 30])(
    '%i machines: the interval is that of drawing price and hours once for all',
    (of) => {
      const prospects = Array.from({ length: of }, (_, k) => prospectOf(k % 10))
      const draws = standardDraws(seededRandom(3), 20_000)
      const parts = prospects.map((prospect) => {
        const { netPresentValue } = appraise({ ...prospect, wantedPaybackYears: 3, draws })
        return { estimate: netPresentValue, shared: netPresentValue.value + prospect.investment[1] }
      })
      const got = together(parts, [LIMITS.priceLimitShare, LIMITS.hoursLimitShare])
      // JCGM 101:2008: the same sum by Monte Carlo, shared doubts drawn once, all others machine by machine.
      const random = seededRandom(11)
      const drawn = Float64Array.from({ length: 20_000 }, () => {
        const price = 1 + (LIMITS.priceLimitShare * normal(random)) / SIGMAS_TO_95
        const hours = 1 + (LIMITS.hoursLimitShare * normal(random)) / SIGMAS_TO_95
        return prospects.reduce((sum, prospect) => {
          const z = normal(random) / SIGMAS_TO_95
          const { value, low, high } = prospect.savedKWh
          const saved = value + z * (z < 0 ? value - low : high - value)
          const [least, likely, most] = prospect.investment
          const cost = triangular(random, least, likely, most)
          return sum + savedMoney(prospect, saved, 0, hours, price) * worthOfSaving(prospect) - cost
        }, 0)
      })
      const width = quantile(drawn, 0.975) - quantile(drawn, 0.025)
      expect(((got?.high ?? 0) - (got?.low ?? 0)) / width).toBeGreaterThan(0.95)
      expect(((got?.high ?? 0) - (got?.low ?? 0)) / width).toBeLessThan(1.1)
    },
  )

  it('without shared doubts adds in squares, with nothing else straight on', () => {
    const one: Estimate = { value: 10, low: 7, high: 14, basis: 'measured' }
    const [a, b] = [
      together(
        [
          { estimate: one, shared: 0 },
          { estimate: one, shared: 0 },
        ],
        [],
      ),
      together(
        [
          { estimate: one, shared: 0 },
          { estimate: one, shared: 0 },
        ],
        [],
      ),
    ]
    expect(a?.low).toBeCloseTo(20 - Math.sqrt(18), 12)
    expect(b?.high).toBeCloseTo(20 + Math.sqrt(32), 12)
    const shared = { estimate: { value: 10, low: 9, high: 11, basis: 'default' } as const, shared: 10 }
    expect(together([shared, shared], [0.1])).toMatchObject({ low: 18, high: 22, basis: 'default' })
    expect(together([], [0.1])).toBeNull()
  })
})
