import fc from 'fast-check'
import { expect, it } from 'vitest'
import { readable, toDigits } from '@/lib/numeric/readable'
import { fromSi, toSi, UNITS } from '@/lib/units'

// Number.prototype.toPrecision (ECMAScript) is what both must agree with.

it('gives twelve digits of any number, of readings that went to SI and back too', () => {
  const decimals = fc
    .tuple(
      fc.integer({ min: -9_999_999, max: 9_999_999 }),
      fc.integer({ min: 0, max: 6 }),
      fc.constantFrom(...UNITS),
    )
    .map(([digits, places, unit]) => fromSi(toSi(digits / 10 ** places, unit), unit))
  fc.assert(
    fc.property(fc.oneof(decimals, fc.double({ noNaN: true, noDefaultInfinity: true })), (value) => {
      // Nil has no sign here.
      expect(readable(value)).toBe(Number(value.toPrecision(12)) + 0)
    }),
    { numRuns: 2000 },
  )
})

it('gives nine digits of a mean to a unit of the last', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
      const wanted = Number(value.toPrecision(9))
      expect(Math.abs(toDigits(value, 9) - wanted)).toBeLessThanOrEqual(Math.abs(wanted) * 1.01e-8)
    }),
  )
})
