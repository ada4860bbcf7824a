import { describe, expect, it } from 'vitest'
import { normalBelow } from '@/lib/numeric/normal-below'

/** Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1. */
const TABLE: readonly (readonly [number, number])[] = [
  [0, 0.5],
  [0.5, 0.69146246],
  [1, 0.84134475],
  [1.96, 0.9750021],
  [3, 0.9986501],
  [4, 0.99996833],
]

describe('the normal distribution', () => {
  it.each(TABLE)('below %d has the share of the table', (value, share) => {
    expect(normalBelow(value)).toBeCloseTo(share, 6)
    expect(normalBelow(-value)).toBeCloseTo(1 - share, 6)
  })
})
