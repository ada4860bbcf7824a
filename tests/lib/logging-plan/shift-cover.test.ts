import { describe, expect, it } from 'vitest'
import { hoursByShift } from '@/lib/logging-plan/shift-cover'

const HOUR_MS = 3_600_000
const hourOf = (epochMs: number) => (epochMs / HOUR_MS) % 24
const hours = (startHour: number, long: number) =>
  hoursByShift([{ startedAtMs: startHour * HOUR_MS, durationS: long * 3600 }], hourOf).map((one) => one.hours)

describe('hours by shift', () => {
  it.each([
    [6, 8, [8, 0, 0]],
    [5, 2, [1, 0, 1]],
    [21, 4, [0, 1, 3]],
    [0, 24, [8, 8, 8]],
  ])('from %i o’clock for %i h', (start, long, expected) => {
    expect(hours(start, long)).toEqual(expected)
  })
  it('nothing recorded is nothing', () => {
    expect(hoursByShift([], hourOf).map((one) => one.hours)).toEqual([0, 0, 0])
  })
})
