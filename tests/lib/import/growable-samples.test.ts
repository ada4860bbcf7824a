import { describe, expect, it } from 'vitest'
import { coded, GrowableSamples } from '@/lib/import/growable-samples'
import { inFull } from '@/lib/samples/samples'

const LONG = 1 << 22
const BATCH = 4096

/** Decimals of two places, as many as asked for. */
const levelsOf = (count: number) =>
  Float64Array.from({ length: count }, (_, i) => ((i * 7919) % 25_000) / 100)

const grown = (values: Float64Array, last: readonly number[] = []) => {
  const column = new GrowableSamples()
  for (let from = 0; from < values.length; from += BATCH) {
    const part = values.subarray(from, from + BATCH)
    column.pushEvery({ values: part, first: 0, stride: 1 }, part.length)
  }
  for (const value of last) column.push(value)
  return column.take()
}
const areEqual = (a: Float64Array, b: Float64Array) =>
  Buffer.from(a.buffer, a.byteOffset, a.byteLength).equals(Buffer.from(b.buffer, b.byteOffset, b.byteLength))

describe('a column as it grows', () => {
  it('is an array while it is short', () => {
    expect(grown(levelsOf(10_000))).toBeInstanceOf(Float64Array)
  })

  it('goes on as codes once it is long, every number to the last bit', () => {
    const values = levelsOf(LONG + 50_000)
    const samples = grown(values)
    expect(samples).not.toBeInstanceOf(Float64Array)
    expect(samples).toHaveLength(values.length)
    expect(areEqual(inFull(samples), values)).toBe(true)
    expect(areEqual(inFull(coded(values)), values)).toBe(true)
  })

  it('is an array again where a number comes that no code can be', () => {
    const values = levelsOf(LONG + 50_000)
    const samples = grown(values, [1e9, 1 / 3])
    if (!(samples instanceof Float64Array)) throw new Error('it was coded')
    expect(areEqual(samples.slice(0, values.length), values)).toBe(true)
    expect([...samples.slice(-2)]).toEqual([1e9, 1 / 3])
    expect(coded(samples)).toBe(samples)
  })
})
