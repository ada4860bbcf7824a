import fc from 'fast-check'
import { expect, it } from 'vitest'
import { readElapsed, writeElapsed } from '@/app/_ui/machine/elapsed-entry'

it.each([
  [0, '0:00:00'],
  [59.25, '0:00:59.25'],
  [3661.0625, '1:01:01.0625'],
  [360_000, '100:00:00'],
])('%d s is written %s', (seconds, text) => {
  expect(writeElapsed(seconds)).toBe(text)
  expect(readElapsed(text)).toBe(seconds)
})

it.each([
  ['90', 90],
  ['90,5', 90.5],
  ['2:05', 125],
  [' 1:00:00 ', 3600],
  ['0:59.5', 59.5],
])('%s is read as %d s', (text, seconds) => {
  expect(readElapsed(text)).toBe(seconds)
})

it.each(['', 'soon', '1:60', '1:2:3:4', '-5', '1.5:00', ':30', '1e3'])('"%s" is no time', (text) => {
  expect(readElapsed(text)).toBeNull()
})

it('what is written is read back as the same instant, to a microsecond', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1e6, noNaN: true }), (seconds) => {
      expect(Math.abs((readElapsed(writeElapsed(seconds)) ?? Number.NaN) - seconds)).toBeLessThan(1e-6)
    }),
  )
})
