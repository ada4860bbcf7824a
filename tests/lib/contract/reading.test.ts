import { describe, expect, it } from 'vitest'
import { readingSchema, wallClockMs } from '@/lib/contract/reading'

describe('wallClockMs', () => {
  // ISO 8601 calendar dates and times without a zone.
  it.each([
    ['2026-03-31', Date.UTC(2026, 2, 31)],
    ['2026-03-31T06:00', Date.UTC(2026, 2, 31, 6)],
    ['2026-03-31T06:00:30.250', Date.UTC(2026, 2, 31, 6, 0, 30, 250)],
    ['2024-02-29', Date.UTC(2024, 1, 29)],
  ])('reads %s', (text, ms) => expect(wallClockMs(text)).toBe(ms))
  it.each([
    '2026-02-30',
    '2026-04-31T00:00',
    '2026-13-01',
    '2026-03-31T25:00',
    '31.03.2026',
    '',
    '2026-03-31T06:00Z',
  ])('takes no %s', (text) => expect(wallClockMs(text)).toBeNaN())
})

it('knows no answers that are not there, so that a slip is no silent default', () => {
  expect(readingSchema.safeParse({ dayorder: 'day-first' }).success).toBe(false)
  expect(readingSchema.safeParse({ startedAt: '2026-02-30' }).success).toBe(false)
  expect(readingSchema.parse({ startedAt: null })).toEqual({ startedAt: null })
})
