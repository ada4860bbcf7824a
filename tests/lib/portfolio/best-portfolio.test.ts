import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { seededRandom } from '@/lib/numeric/random'
import { bestPortfolio, type Candidate } from '@/lib/portfolio/best-portfolio'

/** Every portfolio there is, one after the other. */
function bruteForce(groups: readonly (readonly Candidate[])[], budget: number): number {
  const from = (group: number, left: number): number => {
    if (group === groups.length) return 0
    const without = from(group + 1, left)
    const withOne = groups[group]
      .filter(({ cost }) => cost <= left + 1e-9)
      .map(({ cost, worth }) => worth + from(group + 1, left - cost))
    return Math.max(without, ...withOne)
  }
  return from(0, budget)
}

/** The textbook's table over whole budgets (Kellerer, Pferschy, Pisinger: Knapsack Problems, 11.5; from memory). */
function byTable(groups: readonly (readonly Candidate[])[], budget: number): number {
  let table = new Float64Array(budget + 1)
  for (const group of groups) {
    const next = table.slice()
    for (const { cost, worth } of group)
      for (let money = cost; money <= budget; money++)
        next[money] = Math.max(next[money], table[money - cost] + worth)
    table = next
  }
  return table[budget]
}

const candidate = (most: number) =>
  fc.record({
    // Few distinct costs and worths, so that ties and subsets that just fit occur.
    cost: fc.oneof(fc.integer({ min: 0, max: most }), fc.constantFrom(0, 2.5, 7.25)),
    worth: fc.oneof(fc.integer({ min: -5, max: 30 }), fc.double({ min: -5, max: 30, noNaN: true })),
  })

describe('the best portfolio', () => {
  it('is worth what the best of all portfolios is', () => {
    const groups = fc.array(fc.array(candidate(20), { maxLength: 4 }), { maxLength: 6 })
    fc.assert(
      fc.property(groups, fc.integer({ min: 0, max: 60 }), (of, budget) => {
        const { picks, cost, worth, worthAtMost } = bestPortfolio(of, budget)
        const chosen = picks.flatMap((pick, k) => (pick === null ? [] : [of[k][pick]]))
        expect(picks).toHaveLength(of.length)
        expect(cost).toBeLessThanOrEqual(budget)
        expect(cost).toBeCloseTo(
          chosen.reduce((sum, one) => sum + one.cost, 0),
          9,
        )
        expect(worth).toBeCloseTo(
          chosen.reduce((sum, one) => sum + one.worth, 0),
          9,
        )
        expect(worth).toBeCloseTo(bruteForce(of, budget), 9)
        expect(worthAtMost).toBe(worth)
      }),
      { numRuns: 600 },
    )
  })

  it.each([
    ['worth by chance', (cost: number, random: () => number) => cost * (0.5 + random())],
    ['worth nearly in proportion to cost', (cost: number, random: () => number) => cost + random()],
    ['worth equal to cost', (cost: number) => cost],
  ])('agrees with the textbook’s table on 80 machines: %s', (_, worthOf) => {
    for (const seed of [1, 2, 3]) {
      const random = seededRandom(seed)
      const groups = Array.from({ length: 80 }, () =>
        Array.from({ length: 8 }, () => {
          const cost = 5 + Math.floor(random() * 400)
          return { cost, worth: worthOf(cost, random) }
        }),
      )
      const budget = 3001
      expect(bestPortfolio(groups, budget).worth).toBeCloseTo(byTable(groups, budget), 6)
    }
  })

  it('answers for 500 machines with twenty choices each while a person waits', () => {
    const random = seededRandom(7)
    const groups = Array.from({ length: 500 }, () =>
      Array.from({ length: 20 }, () => {
        const cost = Math.round(300 + random() * 20_000) + 0.35
        return { cost, worth: cost * (random() * 3 - 0.5) }
      }),
    )
    const started = performance.now()
    const { worth, worthAtMost } = bestPortfolio(groups, 400_000)
    expect(worthAtMost).toBe(worth)
    expect(performance.now() - started).toBeLessThan(3000)
  })

  it('leaves out what is worth nothing, takes what is free, and nothing without money or machines', () => {
    expect(bestPortfolio([[{ cost: 5, worth: -1 }], [{ cost: 0, worth: 2 }]], 10).picks).toEqual([null, 0])
    expect(bestPortfolio([[{ cost: 5, worth: 3 }]], 0)).toMatchObject({ picks: [null], cost: 0, worth: 0 })
    expect(bestPortfolio([], 100)).toEqual({ picks: [], cost: 0, worth: 0, worthAtMost: 0 })
  })

  it('counts costs exactly: ten at 0.1 fit into 1', () => {
    const groups = Array.from({ length: 10 }, () => [{ cost: 0.1, worth: 1 }])
    expect(bestPortfolio(groups, 1).worth).toBe(10)
    expect(bestPortfolio(groups, 0.999).worth).toBe(9)
  })
})
