import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ReadingCodes } from '@/lib/import/reading-codes'
import {
  type ChannelSamples,
  copyOf,
  dropReadings,
  inFull,
  readerOf,
  repeatReading,
  sumOf,
  without,
} from '@/lib/samples/samples'
import { heldTimes, timeline } from '@/lib/samples/timeline'

const bitsOf = (values: Float64Array) => [...new BigUint64Array(Float64Array.from(values).buffer)]

/** Null where one of the numbers was not taken. */
function codedOf(values: readonly number[]): ChannelSamples | null {
  const codes = new ReadingCodes(values.length)
  const column = { values: Float64Array.from(values), first: 0, stride: 1 }
  return codes.pushEvery(column, values.length) === values.length ? codes.take() : null
}

/** Readings as loggers write them: decimals of one place, none, nil of either sign, missing ones. */
const reading = fc.oneof(
  fc.integer({ min: -5000, max: 55_000 }).map((whole) => whole / 100),
  fc.integer({ min: -80, max: 550 }),
  fc.constantFrom(0, -0, Number.NaN),
)

describe('readings as codes of two bytes', () => {
  it('come back to the last bit, one by one, in blocks and in full', () => {
    fc.assert(
      fc.property(fc.array(reading, { minLength: 1, maxLength: 400 }), (values) => {
        const coded = codedOf(values)
        if (coded === null) throw new Error('not every reading was taken')
        expect(bitsOf(inFull(coded))).toEqual(bitsOf(Float64Array.from(values)))
        const reader = readerOf(coded)
        values.forEach((value, i) => {
          expect(reader.at(i)).toBe(value)
        })
        const [from, to] = [values.length >> 2, values.length]
        expect(bitsOf(reader.between(from, to))).toEqual(bitsOf(Float64Array.from(values.slice(from, to))))
      }),
      { numRuns: 200 },
    )
  })

  it('are the same one after the other as many at once', () => {
    fc.assert(
      fc.property(fc.array(reading, { minLength: 1, maxLength: 200 }), (values) => {
        const codes = new ReadingCodes(1)
        for (const value of values) expect(codes.push(value)).toBe(true)
        expect(bitsOf(inFull(codes.take()))).toEqual(bitsOf(Float64Array.from(values)))
      }),
      { numRuns: 100 },
    )
  })

  it.each([
    ['too large for its last decimal', [0.01, 700]],
    ['too many decimals', [1 / 3]],
    ['infinite', [Number.POSITIVE_INFINITY]],
    ['far below nil', [-9000]],
  ])('are refused where one is %s', (_name, values) => {
    expect(codedOf(values)).toBeNull()
  })

  it('keep what they had where one is refused', () => {
    const codes = new ReadingCodes(4)
    for (const value of [0.5, 2, 0.25]) expect(codes.push(value)).toBe(true)
    expect(codes.push(2000)).toBe(false)
    expect([...inFull(codes.take())]).toEqual([0.5, 2, 0.25])
  })

  it('are mended as arrays are, and a copy is a copy', () => {
    const values = [1, 2, 2, -0, 0, 5, Number.NaN, 7]
    for (const samples of [codedOf(values), Float64Array.from(values)]) {
      if (samples === null) throw new Error('not every reading was taken')
      const own = copyOf(samples)
      repeatReading(own, 0, 1, 2)
      dropReadings(own, 5, 6)
      expect([...inFull(own)]).toEqual([1, 1, 2, -0, 0, Number.NaN, Number.NaN, 7])
      expect([...inFull(samples)]).toEqual(values)
      expect([...inFull(without(samples, (value) => value > 4))]).toEqual([
        1,
        2,
        2,
        -0,
        0,
        Number.NaN,
        Number.NaN,
        Number.NaN,
      ])
      expect(without(samples, (value) => value > 9)).toBe(samples)
      const reader = readerOf(samples)
      expect(values.map((_, i) => reader.endOfRun(i))).toEqual([1, 3, 3, 5, 5, 6, 7, 8])
      expect(reader.firstMissing()).toBe(6)
    }
  })
})

describe('times of a long recording', () => {
  const LONG = (1 << 22) + 3

  it('are not held one by one where they are even, and come back to the last bit with how long they hold', () => {
    // As settle-time.ts makes them: whole tenths of a microsecond over 10⁷.
    const timeS = Float64Array.from({ length: LONG }, (_, i) => Math.round(i * 10 * 1e4) / 1e7)
    const held = heldTimes(timeS)
    const plain = timeline(timeS)
    expect(held.timeS).toMatchObject({ kind: 'even-times' })
    expect(held.sampleIntervalS).toBe(plain.sampleIntervalS)
    expect(held.gaps).toEqual(plain.gaps)
    expect(Buffer.from(inFull(held.timeS).buffer).equals(Buffer.from(timeS.buffer))).toBe(true)
    expect(Buffer.from(inFull(held.holdS).buffer).equals(Buffer.from(plain.holdS.buffer))).toBe(true)
    expect(sumOf(held.holdS)).toBe(sumOf(plain.holdS))
    expect(readerOf(held.holdS).at(LONG - 1)).toBe(plain.sampleIntervalS)
  })

  it('are held as they are where one is late', () => {
    const timeS = Float64Array.from({ length: LONG }, (_, i) => i / 100 + (i > 5 ? 0.001 : 0))
    expect(heldTimes(timeS).timeS).toBe(timeS)
  })
})
