import { expect, it } from 'vitest'
import { sumReach } from '@/lib/months/reach'

const even = (reach: number) => ({ below: reach, above: reach })

it('what machines are off by themselves adds in squares, what all share as it is: 3-4-5 twice', () => {
  expect(sumReach([even(3), even(4)])).toEqual(even(5))
  // Each 5 of which 4 are shared: 3 and 3 in squares, 8 as it is.
  expect(sumReach([even(5), even(5)], [4, 4]).above).toBeCloseTo(Math.hypot(8, 3, 3), 12)
})
