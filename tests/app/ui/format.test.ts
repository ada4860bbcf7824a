import { describe, expect, it } from 'vitest'
import {
  dateTime,
  duration,
  elapsed,
  entered,
  estimate,
  monthName,
  number,
  percent,
  reading,
  rough,
  tick,
  years,
} from '@/app/_ui/format'
import type { Estimate } from '@/lib/contract/estimate'

const of = (value: number, low: number, high: number): Estimate => ({ value, low, high, basis: 'measured' })

describe('an estimate as text', () => {
  // The rule followed: uncertainty to one or two significant digits, value to the same place (JCGM 100:2008, 7.2.6).
  it.each([
    [of(1240.3, 1060.1, 1420.5), 'kWh', '1,240 ± 180 kWh'],
    [of(0.33812, 0.31205, 0.36419), 'kWh', '0.338 ± 0.026 kWh'],
    [of(75012, 69010, 81014), 'kWh/yr', '75,000 ± 6,000 kWh/yr'],
    [of(-0.019, -0.023, -0.015), 'kWh', '−0.019 ± 0.004 kWh'],
    [of(0.55, 0.4, 0.9), 'years', '0.55 (0.40 to 0.90) years'],
  ])('%o', (value, unit, text) => {
    expect(estimate(value, unit)).toBe(text)
  })

  it('has no interval where there is none to have', () => {
    expect(estimate(of(0, 0, 0), 'kWh')).toBe('0 kWh')
  })

  it('says so when nothing is known, and never writes 0 for it', () => {
    expect(estimate(null, 'kWh')).toBe('no data')
    expect(number(null)).toBe('no data')
    expect(number(Number.NaN)).toBe('no data')
    expect(percent(Number.NaN)).toBe('no data')
  })

  it('scales value and interval together', () => {
    expect(estimate(of(0.5005, 0.4955, 0.5055), '%', 100)).toBe('50.1 ± 0.5 %')
  })

  it('gives a reading no digit finer than the limit of its sensor', () => {
    expect(reading(93.13, 1.25)).toBe('93')
    expect(reading(93.13, 0.1)).toBe('93.1')
    expect(reading(-0.0752, 0.0386)).toBe('−0.08')
    expect(reading(7.31, 20)).toBe('7')
    expect(reading(1467.4, 0.01)).toBe('1,470')
    expect(reading(0, 1)).toBe('0')
    expect(reading(0, 0)).toBe('0')
  })

  it('gives what was entered to its last digit', () => {
    expect(entered(93.13)).toBe('93.13')
    expect(entered(-0.00125)).toBe('−0.00125')
    expect(entered(0.055 * 100)).toBe('5.5')
  })

  it('never writes a negative zero', () => {
    expect(estimate(of(-0.001, -2, 2), 'kW')).toBe('0.0 ± 2.0 kW')
  })
})

describe('times', () => {
  it('writes durations in the units a person would use', () => {
    expect([0.25, 45, 725, 27_000, 300_000].map((s) => duration(s))).toEqual([
      '0.250 s',
      '45.0 s',
      '12 min 05 s',
      '7 h 30 min',
      '3 d 11 h',
    ])
  })

  it('counts elapsed time on from the first sample', () => {
    expect([0, 61.25, 3661].map(elapsed)).toEqual(['0:00:00', '0:01:01.25', '1:01:01'])
  })

  it('shows an instant on the site’s clock, summer and winter', () => {
    expect(dateTime('2026-07-01T06:00:00Z', 'Europe/Vienna')).toContain('08:00')
    expect(dateTime('2026-12-01T06:00:00Z', 'Europe/Vienna')).toContain('07:00')
    expect(dateTime(null, 'Europe/Vienna')).toBe('no date in the log')
  })

  it('names months', () => {
    expect(monthName('2026-03')).toBe('March 2026')
  })
})

it('gives projections no more digits than they are worth', () => {
  expect([9756, 51_347, 0.12345, 12].map((value) => rough(value))).toEqual([
    '9,760',
    '51,300',
    '0.123',
    '12.0',
  ])
})

describe('ticks of an axis', () => {
  it('carry no digits they do not need', () => {
    expect([0, 50, 0.5, 2.5, -20, 1200].map(tick)).toEqual(['0', '50', '0.5', '2.5', '−20', '1,200'])
  })
})

it('says a time to wait as a person does', () => {
  expect(years(0.05)).toBe('under a month')
  expect(years(1 / 12)).toBe('a month')
  expect(years(0.55)).toBe('7 months')
  expect(years(2.44)).toBe('2.4 years')
})
