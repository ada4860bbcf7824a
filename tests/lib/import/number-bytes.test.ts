import fc from 'fast-check'
import { expect, it } from 'vitest'
import { markByte, readNumber, readPlainNumber } from '@/lib/import/number-bytes'

const SEMICOLON = 59

function readWith(read: typeof readNumber, text: string, mark: '.' | ','): { value: number; end: number } {
  const out = new Float64Array(2)
  const end = read(new TextEncoder().encode(`${text};`), 0, markByte(mark, SEMICOLON), out, 1)
  return { value: out[1], end }
}

const digits = (max: number) =>
  fc.string({ unit: fc.constantFrom(...'0123456789'), minLength: 0, maxLength: max })
const numeral = fc
  .record({
    sign: fc.constantFrom('', '-', '+'),
    whole: digits(12),
    fraction: fc.option(digits(9)),
    exponent: fc.option(fc.integer({ min: -40, max: 40 })),
  })
  .filter(({ whole, fraction }) => whole !== '' || (fraction ?? '') !== '')
  .map(({ sign, whole, fraction, exponent }) => {
    const power = exponent === null ? '' : `e${exponent}`
    return `${sign}${whole}${fraction === null ? '' : `.${fraction}`}${power}`
  })

// `Number` is correctly rounded by ECMA-262 (StringToNumber), so that it is the reference to the last bit.
it.each(['.', ','] as const)(
  'a numeral under %s is what Number gives, to the last bit, or is left',
  (mark) => {
    let read = 0
    fc.assert(
      fc.property(numeral, (text) => {
        const written = text.replace('.', mark)
        for (const way of [readNumber, readPlainNumber]) {
          const { value, end } = readWith(way, written, mark)
          if (end !== written.length) continue
          read++
          expect(Object.is(value, Number(text))).toBe(true)
        }
      }),
      { numRuns: 5000 },
    )
    expect(read).toBeGreaterThan(3000)
  },
)

it.each(['', '-', '.', 'e5', '1e', '1e+', '1234567890123456', '0.1234567890123456', '1e23', '1e-23', 'OL'])(
  'leaves %s',
  (text) => {
    const { end } = readWith(readNumber, text, '.')
    expect(end).toBe(-1)
  },
)

it.each(['1.2.3', '12 bar', '0x10', '1,5'])('stops inside %s, so that no cell ends there', (text) => {
  expect(readWith(readNumber, text, '.').end).toBeLessThan(text.length)
})

it('takes no decimal mark that splits cells, and none while it is undecided', () => {
  expect(markByte(',', 44)).toBe(-1)
  expect(markByte(null, SEMICOLON)).toBe(-1)
})
