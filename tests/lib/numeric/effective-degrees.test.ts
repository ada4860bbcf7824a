import { expect, it } from 'vitest'
import { effectiveDegrees } from '@/lib/numeric/effective-degrees'

// JCGM 100:2008, G.4.1: 0.25 %, 0.57 % and 0.82 % from 10, 5 and 15 observations give 19.0 (from memory).
it('effective degrees of freedom are those of the GUM’s example', () => {
  const parts = [
    { sd: 0.25, degrees: 9 },
    { sd: 0.57, degrees: 4 },
    { sd: 0.82, degrees: 14 },
  ]
  expect(effectiveDegrees(parts)).toBeCloseTo(19.0, 1)
})

it('what is not estimated adds no doubt of its own', () => {
  const known = { sd: 2, degrees: Number.POSITIVE_INFINITY }
  expect(effectiveDegrees([known])).toBe(Number.POSITIVE_INFINITY)
  expect(effectiveDegrees([{ sd: 1, degrees: 5 }])).toBeCloseTo(5, 12)
  expect(effectiveDegrees([{ sd: 1, degrees: 5 }, known])).toBeCloseTo(125, 9)
})
