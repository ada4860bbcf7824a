import { describe, expect, it } from 'vitest'
import { newStamp, readStamp } from '@/lib/import/stamp'

const DAY = Date.UTC(2026, 2, 2)
const SIX = 6 * 3600 * 1000

function read(text: string) {
  const stamp = newStamp()
  return readStamp(text, stamp) ? stamp : null
}

describe('readStamp', () => {
  it.each([
    ['2026-03-02T06:00:00', SIX],
    ['2026-03-02 06:00', SIX],
    ['2026.03.02 06:00:00', SIX],
    ['20260302T060000', SIX],
    ['20260302060000', SIX],
    ['02-Mar-2026 06:00:00', SIX],
    ['2 mars 2026 06:00:00', SIX],
    ['Mar 2, 2026 6:00:00 AM', SIX],
    ['Mon, 02 Mar 2026 06:00:00 GMT', SIX],
    ['2026-03-02 6:00:00 a.m.', SIX],
    ['2026-03-02 06:00:00.5', SIX + 500],
    ['2026-03-02 06:00:00,25', SIX + 250],
    ['2026-03-02', 0],
  ])('%s', (text, timeMs) => {
    expect(read(text)).toMatchObject({ date: 'sure', dayFirstMs: DAY, timeMs })
  })
  it('keeps both readings of an open order', () => {
    expect(read('02/03/2026 06:00')).toMatchObject({
      date: 'either',
      dayFirstMs: DAY,
      monthFirstMs: Date.UTC(2026, 1, 3),
    })
    expect(read('02.03.26 06:00')).toMatchObject({ date: 'either', dayFirstMs: DAY })
    expect(read('13/03/2026')?.monthFirstMs).toBeNaN()
  })
  it('reads zones', () => {
    expect(read('2026-03-02T06:00:00Z')?.zoneMinutes).toBe(0)
    expect(read('2026-03-02T06:00:00+05:30')?.zoneMinutes).toBe(330)
    expect(read('2026-03-02T06:00:00-0800')?.zoneMinutes).toBe(-480)
    expect(read('2026-03-02 06:00:00 MEZ')?.zoneMinutes).toBe(60)
    expect(read('2026-03-02 06:00:00')?.zoneMinutes).toBeNaN()
  })
  it('takes minutes and seconds with a fraction for a stamp without its hour', () => {
    expect(read('14:11.6')).toMatchObject({ hourLost: true, timeMs: 14 * 60_000 + 11_600 })
  })
  it.each([
    '',
    'abc',
    '12.5',
    '2026-13-02',
    '2026-02-30',
    '31/31/2026',
    '25:00 2026',
    '06:61',
    '2026-03-02 25:00:00',
    '2026-03-02 06:00:00 XYZ',
    '13:00 PM',
    '2026-03-02x',
    '1/2',
  ])('"%s" is none', (text) => {
    expect(read(text)).toBeNull()
  })
})
