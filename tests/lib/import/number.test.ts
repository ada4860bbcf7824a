import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseNumber } from '@/lib/import/number'

describe('parseNumber', () => {
  it('is Number to the last bit for any plain numeral', () => {
    const numeral = fc
      .tuple(
        fc.constantFrom('', '-', '+'),
        fc.stringMatching(/^\d{1,20}$/),
        fc.option(fc.stringMatching(/^\d{0,20}$/), { nil: null }),
      )
      .map(([sign, whole, part]) => `${sign}${whole}${part === null ? '' : `.${part}`}`)
    fc.assert(
      fc.property(numeral, (text) => {
        expect(parseNumber(text, '.')).toBe(Number(text))
        expect(parseNumber(text.replace('.', ','), ',')).toBe(Number(text))
      }),
      { numRuns: 2000 },
    )
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(parseNumber(String(value), '.')).toBe(Number(String(value)))
      }),
    )
  })
  it.each([
    ['1,234.5', '.', 1234.5],
    ['1.234,5', ',', 1234.5],
    ['1 234 567', '.', 1234567],
    ['1\u202f234,5', ',', 1234.5],
    ["1'234.5", '.', 1234.5],
    ['−3.5', '.', -3.5],
    ['1e-3', '.', 0.001],
    ['1,5E3', ',', 1500],
    ['.5', '.', 0.5],
    ['5.', '.', 5],
    [' 7 ', '.', 7],
  ] as const)('%s under %s', (text, mark, value) => {
    expect(parseNumber(text, mark)).toBe(value)
  })
  it.each([
    ['1,5', '.'],
    ['1.5', ','],
    ['1,23,456', '.'],
    ['12,3456', '.'],
    ['0x10', '.'],
    ['', '.'],
    ['-', '.'],
    ['.', '.'],
    ['1.2.3', '.'],
    ['Infinity', '.'],
    ['1e999', '.'],
    ['12 bar', '.'],
    ['1 2', '.'],
  ] as const)('%s under %s is no number', (text, mark) => {
    expect(parseNumber(text, mark)).toBeNaN()
  })
})
