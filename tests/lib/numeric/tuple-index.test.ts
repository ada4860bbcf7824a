import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tupleIndex } from '@/lib/numeric/tuple-index'

describe('tuples by number', () => {
  it('equal tuples have one number, in the order in which they are first met', () => {
    const number = tupleIndex(2)
    const tuples = [
      [3, -1],
      [0, 0],
      [3, -1],
      [-1, 3],
      [0, 0],
    ]
    expect(tuples.map((tuple) => number(Int32Array.from(tuple)))).toEqual([0, 1, 0, 2, 1])
  })
  it('what it was given may change afterwards', () => {
    const number = tupleIndex(1)
    const tuple = Int32Array.of(7)
    number(tuple)
    tuple[0] = 8
    expect(number(tuple)).toBe(1)
    expect(number(Int32Array.of(7))).toBe(0)
  })
  it('numbers as a map of texts does, however many there are', () => {
    const value = fc.integer({ min: -40, max: 40 })
    fc.assert(
      fc.property(fc.array(fc.tuple(value, value, value), { maxLength: 6000, size: 'max' }), (tuples) => {
        const number = tupleIndex(3)
        const known = new Map<string, number>()
        for (const tuple of tuples) {
          const text = tuple.join()
          if (!known.has(text)) known.set(text, known.size)
          expect(number(Int32Array.from(tuple))).toBe(known.get(text))
        }
      }),
      { numRuns: 20 },
    )
  })
})
