import { describe, expect, it } from 'vitest'
import { cusum } from '@/lib/proof/cusum'

const points = (...values: number[]) => cusum(values.map((valueJ) => ({ valueJ, sdJ: 1 })))

describe('the running sum and its rule', () => {
  it('by hand', () => {
    // Page’s sums with allowance 0.5: 1 → 0.5; 2 → 2; −1 → 0.5; 6 → 6, above five.
    expect(points(1, 2, -1, 6)).toEqual([
      { sumJ: 1, above: 0.5, below: 0, alarm: null },
      { sumJ: 3, above: 2, below: 0, alarm: null },
      { sumJ: 2, above: 0.5, below: 0.5, alarm: null },
      { sumJ: 8, above: 6, below: 0, alarm: 'worse' },
    ])
  })

  it('less than expected for long is an alarm the other way', () => {
    expect(
      points(...Array(12).fill(-1))
        .map(({ alarm }) => alarm)
        .indexOf('better'),
    ).toBe(10)
  })
})
