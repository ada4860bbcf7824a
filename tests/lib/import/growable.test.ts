import { expect, it } from 'vitest'
import { GrowableFloat64 } from '@/lib/import/growable'

const isShared = (values: Float64Array) => values.buffer instanceof SharedArrayBuffer

it.each([0, 1, 1024, 1025, 70_000, 1 << 20, (1 << 20) + 1, 1_300_000, (1 << 23) + 70_000])(
  'gives %i numbers back in one array that threads can share',
  (count) => {
    const grown = new GrowableFloat64()
    for (let i = 0; i < count; i++) grown.push(i / 8)
    expect(grown.length).toBe(count)
    const all = grown.take()
    expect(all.length).toBe(count)
    expect(isShared(all)).toBe(true)
    expect(all.findIndex((value, i) => value !== i / 8)).toBe(-1)
    // What was given away is no longer its own.
    expect(grown.length).toBe(0)
    grown.push(7)
    expect(Array.from(grown.take())).toEqual([7])
    expect(count === 0 || all[0] === 0).toBe(true)
  },
)

it('takes columns of a table, with what is added to each', () => {
  const table = Float64Array.from({ length: 3 * 500_000 }, (_, i) => i)
  const grown = new GrowableFloat64()
  grown.push(-0)
  grown.pushEvery({ values: table, first: 1, stride: 3 }, 500_000)
  grown.pushEvery({ values: table, first: 2, stride: 3 }, 500_000, 1000)
  grown.pushEvery({ values: table, first: 0, stride: 3 }, 500_000)
  const all = grown.take()
  expect(all.length).toBe(1_500_001)
  expect(Object.is(all[0], -0)).toBe(true)
  const expected = (i: number) =>
    i < 500_000 ? 3 * i + 1 : i < 1_000_000 ? 3 * (i - 500_000) + 1002 : 3 * (i - 1_000_000)
  expect(all.subarray(1).findIndex((value, i) => value !== expected(i))).toBe(-1)
})

it.each([100, 70_000, 1_200_000])('copies %i numbers that grow apart from there on', (count) => {
  const grown = new GrowableFloat64()
  for (let i = 0; i < count; i++) grown.push(i)
  const copy = grown.copy()
  for (let i = 0; i < 100_000; i++) {
    grown.push(1)
    copy.push(2)
  }
  const [one, two] = [grown.take(), copy.take()]
  expect([one.length, two.length]).toEqual([count + 100_000, count + 100_000])
  expect(one.findIndex((value, i) => value !== (i < count ? i : 1))).toBe(-1)
  expect(two.findIndex((value, i) => value !== (i < count ? i : 2))).toBe(-1)
})
