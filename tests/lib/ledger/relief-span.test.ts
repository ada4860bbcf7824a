import { describe, expect, it } from 'vitest'
import { spanFromLevels } from '@/lib/ledger/relief-span'
import { normal, seededRandom } from '@/lib/numeric/random'

/** Depths on a straight line: a relief that passes all but a share of the flow stands that share of its span lower. */
const depthsOf = (span: number, shares: readonly number[]) => shares.map((share) => share * span)

describe('span of a relief from the levels at which oil is metered', () => {
  it('is what the kind says where nothing is metered', () => {
    const { low, high } = spanFromLevels('direct-acting', { sure: [], early: [] }, 1)
    expect(low).toBeLessThan(0.2)
    expect(high).toBeGreaterThan(0.2)
  })

  it('reaches further down than the deepest level', () => {
    const { low, high } = spanFromLevels('pilot-operated', { sure: [0.06], early: [0.12] }, 1)
    expect(high).toBeGreaterThan(0.2)
    expect(low).toBeGreaterThan(0.05)
    expect(spanFromLevels('pilot-operated', { sure: [0.06, 0.1], early: [] }, 1).low).toBeGreaterThan(0.1)
  })

  it('is longer where less than the rated flow stands for the whole of it', () => {
    const all = spanFromLevels('pilot-operated', { sure: [0.05], early: [] }, 1)
    const part = spanFromLevels('pilot-operated', { sure: [0.05], early: [] }, 0.8)
    expect(part.low).toBeGreaterThan(all.low)
  })

  it('is told from the kind where a level lies deeper than any relief opens', () => {
    expect(spanFromLevels('pilot-operated', { sure: [0.9], early: [] }, 1)).toEqual(
      spanFromLevels('pilot-operated', { sure: [], early: [] }, 1),
    )
  })

  it('holds the truth 92 to 99 times in 100 on valves drawn as the kind has them, one in seven opening early', () => {
    const random = seededRandom(5)
    let inside = 0
    const tries = 1000
    for (let k = 0; k < tries; k++) {
      const ratio = random() < 1 / 7 ? 0.55 + 0.3 * random() : 0.94 + 0.022 * normal(random)
      const span = Math.max(0.01, 1 - ratio)
      const depths = depthsOf(span, [0.05 + 0.85 * random(), 0.05 + 0.85 * random()])
      const { low, high } = spanFromLevels(
        'pilot-operated',
        { sure: depths.filter((depth) => depth < 0.12), early: depths.filter((depth) => depth >= 0.12) },
        1,
      )
      if (span >= low - 0.0025 && span <= high + 0.0025) inside++
    }
    expect(inside / tries).toBeGreaterThan(0.92)
    expect(inside / tries).toBeLessThan(0.99)
  })
})
