import { describe, expect, it } from 'vitest'
import { monthOf, monthStartMs, nextMonth, wallClock, wallClockInstants } from '@/lib/economics/local-time'
import { TankwardError } from '@/lib/errors'

const VIENNA = 'Europe/Vienna'
const at = (text: string) => Date.parse(text)

describe('months', () => {
  it.each([
    ['2026-03', VIENNA, '2026-03-01T00:00+01:00'],
    ['2026-04', VIENNA, '2026-04-01T00:00+02:00'],
    ['2026-01', 'America/New_York', '2026-01-01T00:00-05:00'],
    ['2026-07', 'Asia/Kolkata', '2026-07-01T00:00+05:30'],
  ])('%s begins in %s at %s', (month, zone, instant) => {
    expect(monthStartMs(month, zone)).toBe(at(instant))
    expect(monthOf(at(instant), zone)).toBe(month)
    expect(monthOf(at(instant) - 1, zone)).not.toBe(month)
  })
  it('December is followed by January', () => {
    expect(nextMonth('2025-12')).toBe('2026-01')
  })
})

describe('the clock on the wall', () => {
  it('shows weekday and hour at the site', () => {
    expect(wallClock(at('2026-03-23T05:30Z'), VIENNA)).toEqual({ date: '2026-03-23', weekday: 1, hour: 6.5 })
    expect(wallClock(at('2026-03-22T23:30Z'), VIENNA)).toEqual({ date: '2026-03-23', weekday: 1, hour: 0.5 })
  })
  it('shows 2:30 twice in autumn', () => {
    expect(wallClock(at('2026-10-25T00:30Z'), VIENNA).hour).toBe(2.5)
    expect(wallClock(at('2026-10-25T01:30Z'), VIENNA).hour).toBe(2.5)
  })
})

describe('instants of wall-clock hours, changes of the clock included', () => {
  const instants = (from: string, to: string, hours: number[]) =>
    wallClockInstants(at(from), at(to), hours, VIENNA).map((ms) => new Date(ms).toISOString().slice(5, 16))

  it('a plain day has each hour once, and neither end', () => {
    expect(instants('2026-03-23T06:00+01:00', '2026-03-24T06:00+01:00', [6, 22])).toEqual(['03-23T21:00'])
  })
  it('autumn has 2:30 twice, and the change at 1:00 UTC', () => {
    expect(instants('2026-10-25T00:00+02:00', '2026-10-25T12:00+01:00', [2.5])).toEqual([
      '10-25T00:30',
      '10-25T01:00',
      '10-25T01:30',
    ])
  })
  it('spring has the change where 2:00 would be', () => {
    expect(instants('2026-03-29T00:00+01:00', '2026-03-29T12:00+02:00', [2])).toContain('03-29T01:00')
  })
})

it('a zone nobody knows is an error with its name', () => {
  for (const read of [() => monthOf(0, 'Mars/Olympus'), () => monthStartMs('2026-01', 'Mars/Olympus')]) {
    expect(read).toThrow(TankwardError)
    expect(read).toThrow(/time-zone-unknown.*Mars/)
  }
})
