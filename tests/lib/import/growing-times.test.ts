import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { GrowableFloat64 } from '@/lib/import/growable'
import { GrowingTimes } from '@/lib/import/growing-times'

/** Stretches of times by a step each, the first alone or many: some go on as the one before, some do not. */
const stretches = fc.array(
  fc.record({
    fromMs: fc.oneof(
      fc.constant(null),
      fc.integer({ min: -5, max: 5 }),
      fc.constant(1.7e12 + 0.123),
      fc.constant(Number.NaN),
    ),
    stepMs: fc.constantFrom(0, 10, 10, 0.1, 1 / 3, -7),
    count: fc.integer({ min: 0, max: 6 }),
    isColumn: fc.boolean(),
  }),
  { maxLength: 5 },
)

describe('times that grow', () => {
  it('are those that were put there, to the last bit, even ones or not', () => {
    let even = 0
    fc.assert(
      fc.property(stretches, (given) => {
        const [times, plain] = [new GrowingTimes(), new GrowableFloat64()]
        let next = 0
        for (const { fromMs, stepMs, count, isColumn } of given) {
          const from = fromMs ?? next
          const column = Float64Array.from({ length: 2 * count }, (_, i) =>
            i % 2 ? from + (i >> 1) * stepMs - 5 : 99,
          )
          if (isColumn) times.pushEvery({ values: column, first: 1, stride: 2 }, count, 5)
          for (let i = 0; i < count; i++) {
            const value = column[2 * i + 1] + 5
            if (!isColumn) times.push(value)
            plain.push(value)
          }
          next = from + count * stepMs
        }
        const copy = times.copy()
        copy.push(4)
        const all = plain.take()
        const told = times.even
        if (told) {
          even++
          expect(Array.from(all)).toEqual(
            Array.from({ length: told.length }, (_, i) => told.first + i * told.step),
          )
        }
        expect(Array.from(times.take())).toEqual(Array.from(all))
        expect(Array.from(copy.take())).toEqual([...all, 4])
        expect(times.even).toBeNull()
      }),
      { numRuns: 2000 },
    )
    expect(even).toBeGreaterThan(200)
  })

  it('are even only where each lies where the step puts it', () => {
    const of = (...given: number[]) => {
      const times = new GrowingTimes()
      for (const time of given) times.push(time)
      return times.even
    }
    expect(of(5, 15, 25)).toEqual({ first: 5, step: 10, length: 3 })
    expect(of(5, 15, 26)).toBeNull()
    expect(of(5)).toBeNull()
    expect(of()).toBeNull()
    expect(of(5, Number.NaN)).toBeNull()
    expect(of(Number.NaN, 5, 6)).toBeNull()
  })
})
