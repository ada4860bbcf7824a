import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { TankwardError } from '@/lib/errors'
import { decodeChunk, encodeChunk, encodeRounded } from '@/lib/samples/codec'
import { toSi, UNITS } from '@/lib/units'

const BITS = 2
const encodingOf = (bytes: Uint8Array) => bytes[1]

const expectSame = (got: Float64Array, wanted: Float64Array) => {
  expect(got.length).toBe(wanted.length)
  for (let i = 0; i < wanted.length; i++)
    if (!Object.is(got[i], wanted[i])) expect.fail(`sample ${i}: expected ${wanted[i]}, got ${got[i]}`)
}

describe('encodeChunk and decodeChunk', () => {
  it('gives any doubles back to the last bit, NaN, infinities and negative zero included', () => {
    const anything = fc.oneof(
      fc.double(),
      fc.constantFrom(Number.NaN, -0, 0, Number.POSITIVE_INFINITY, 5e-324, Number.MAX_VALUE),
    )
    fc.assert(
      fc.property(fc.array(anything, { maxLength: 300 }), fc.constantFrom(...UNITS), (list, unit) => {
        const values = Float64Array.from(list)
        expectSame(decodeChunk(encodeChunk(values, unit)), values)
      }),
    )
  })

  it('stores what a logger writes as decimals of any unit as whole numbers, and exactly', () => {
    const cell = fc.tuple(fc.integer({ min: -999_999, max: 999_999 }), fc.boolean())
    fc.assert(
      fc.property(
        fc.array(cell, { minLength: 1, maxLength: 300 }),
        fc.integer({ min: 0, max: 3 }),
        fc.constantFrom(...UNITS),
        (cells, decimals, unit) => {
          // Read as the importer reads: text of so many decimals, to a number, to SI.
          const values = Float64Array.from(cells, ([digits, missing]) =>
            missing ? Number.NaN : toSi(Number((digits / 10 ** decimals).toFixed(decimals)), unit),
          )
          const bytes = encodeChunk(values, unit)
          expectSame(decodeChunk(bytes), values)
          expect(encodingOf(bytes)).toBe(BITS)
        },
      ),
    )
  })

  it('rounds what is worked out to a decimal, in place and in what it stores', () => {
    const anything = fc.oneof(
      fc.double(),
      fc.double({ min: -1e5, max: 1e5 }),
      fc.constantFrom(Number.NaN, -0.01),
    )
    fc.assert(
      fc.property(
        fc.array(anything, { maxLength: 300 }),
        fc.integer({ min: 0, max: 3 }),
        (list, decimals) => {
          const values = Float64Array.from(list)
          const stored = decodeChunk(encodeRounded(values, decimals))
          expectSame(stored, values)
          stored.forEach((value, i) => {
            const wanted = list[i]
            if (Number.isFinite(wanted * 10 ** decimals))
              expect(Math.abs(value - wanted)).toBeLessThanOrEqual(
                (0.5 + 1e-9) / 10 ** decimals + Math.abs(wanted) * 1e-12,
              )
          })
        },
      ),
    )
  })

  it('reads chunks as they were stored until 28 November 2026', () => {
    // Written by the encoder of that day.
    const hex =
      '010102000600000000000000006af8400000000000000000c33bcd0435bc00ff82007d0200ffff00000000ffff000000'
    const bytes = Uint8Array.from(hex.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16))
    const bar = [-0.98, Number.NaN, 160.25, 160.27, 0, 3.5]
    expectSame(
      decodeChunk(bytes),
      Float64Array.from(bar, (value) => toSi(value, 'bar')),
    )
  })

  it('takes about as many bits as readings differ by, dropouts beside them', () => {
    const values = Float64Array.from({ length: 8192 }, (_, i) =>
      i % 100 === 99 ? Number.NaN : 100 + (i % 4),
    )
    // Four bits a difference of up to 3, one to say whether a value is there, a byte a block of 32.
    expect(encodeChunk(values, '1').length).toBeLessThan((8192 * (4 + 1 + 0.25)) / 8 + 64)
  })

  it('lays bytes that start anywhere in a larger buffer', () => {
    const bytes = encodeChunk(Float64Array.of(Math.PI, Number.NaN, -1), 'W')
    const larger = new Uint8Array(bytes.length + 13)
    larger.set(bytes, 13)
    expectSame(decodeChunk(larger.subarray(13)), Float64Array.of(Math.PI, Number.NaN, -1))
  })

  it('refuses bytes that are cut, longer, of another version or encoding', () => {
    const bytes = encodeChunk(Float64Array.of(1, 2, 3), 'bar')
    const changed = (at: number, value: number) => {
      const copy = bytes.slice()
      copy[at] = value
      return copy
    }
    const damaged = [
      bytes.subarray(0, 10),
      bytes.subarray(0, bytes.length - 1),
      Uint8Array.of(...bytes, 0),
      changed(0, 2),
      changed(1, 7),
      changed(2, 200),
      changed(5, 9),
    ]
    for (const one of damaged) expect(() => decodeChunk(one)).toThrow(TankwardError)
  })
})
