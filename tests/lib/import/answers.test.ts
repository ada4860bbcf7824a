import { describe, expect, it } from 'vitest'
import type { Answers } from '@/lib/contract/reading'
import { problem, readText, startOf, valuesOf } from './log-text'

const OPEN_DATES = Array.from(
  { length: 20 },
  (_, i) => `03/04/2026 06:00:${String(i).padStart(2, '0')};${100 + i}`,
).join('\n')
const DATED = `Time;Pump pressure [bar]\n${OPEN_DATES}\n`
const PROVEN = DATED.replaceAll('03/04/2026', '25/04/2026')
const OPEN_NUMBERS = `Time;Pump pressure [bar];Motor power [W]\n${Array.from(
  { length: 20 },
  (_, i) => `2026-03-04 06:00:${String(i).padStart(2, '0')};${100 + i};1.${200 + i}`,
).join('\n')}\n`
const elapsed = (header: string, step = 1) =>
  `${header};Pump pressure [bar]\n${Array.from({ length: 20 }, (_, i) => `${i * step};${100 + i}`).join('\n')}\n`

const read = (text: string, answers: Answers, timeZone = 'UTC') => readText(text, { answers, timeZone })

describe('answers to what a file leaves open', () => {
  it('settle the order of day and month, with no assumption left', async () => {
    for (const [dayOrder, start] of [
      ['day-first', '2026-04-03T06:00:00.000Z'],
      ['month-first', '2026-03-04T06:00:00.000Z'],
    ] as const) {
      const log = await read(DATED, { dayOrder })
      expect(startOf(log)).toBe(start)
      expect(problem(log, 'assumed-day-order')).toBeUndefined()
      expect(problem(log, 'answer-not-used')).toBeUndefined()
    }
    expect(problem(await read(DATED, {}), 'assumed-day-order')).toBeDefined()
  })

  it('settle whether a mark groups thousands', async () => {
    const point = await read(OPEN_NUMBERS, { decimalMark: '.' })
    const comma = await read(OPEN_NUMBERS, { decimalMark: ',' })
    expect(valuesOf(point, 'Motor power [W]')[0]).toBeCloseTo(1.2, 12)
    expect(valuesOf(comma, 'Motor power [W]')[0]).toBe(1200)
    for (const log of [point, comma]) expect(problem(log, 'assumed-decimal-mark')).toBeUndefined()
  })

  it('settle the unit of a time column that names none', async () => {
    for (const [timeUnit, intervalS] of [
      ['ms', 0.001],
      ['s', 1],
      ['min', 60],
    ] as const) {
      const log = await read(elapsed('Time'), { timeUnit })
      expect(log.trace.sampleIntervalS).toBeCloseTo(intervalS, 12)
      expect(problem(log, 'assumed-time-unit')).toBeUndefined()
    }
  })

  it('give a start to elapsed times, on the logger’s clock', async () => {
    const log = await read(elapsed('Elapsed [s]'), { startedAt: '2026-07-01T06:00' }, 'Europe/Vienna')
    // Vienna is two hours ahead of UTC in summer (IANA time zone database).
    expect(startOf(log)).toBe('2026-07-01T04:00:00.000Z')
    const winter = { startedAt: '2026-07-01T06:00', timeZone: '+01:00' }
    expect(startOf(await read(elapsed('Elapsed [s]'), winter, 'Europe/Vienna'))).toBe(
      '2026-07-01T05:00:00.000Z',
    )
    expect(startOf(await read(elapsed('Elapsed [s]'), { startedAt: null }))).toBeNull()
  })

  it('give the day to rows that know the time of day', async () => {
    const text = DATED.replaceAll('03/04/2026 ', '')
    expect(startOf(await read(text, {}))).toBeNull()
    expect(startOf(await read(text, { startedAt: '2026-07-01' }))).toBe('2026-07-01T06:00:00.000Z')
  })

  it('settle a date above the table that reads two ways', async () => {
    const text = `Start;03/04/2026 06:00:00\n\n${elapsed('Elapsed [s]')}`
    const log = await read(text, { dayOrder: 'month-first' })
    expect(startOf(log)).toBe('2026-03-04T06:00:00.000Z')
    expect(problem(log, 'assumed-day-order')).toBeUndefined()
    expect(startOf(await read(text, { dayOrder: 'day-first' }))).toBe('2026-04-03T06:00:00.000Z')
  })
})

describe('answers against what the file says itself', () => {
  it.each([
    ['dayOrder', PROVEN, { dayOrder: 'month-first' }, 'day-first', '2026-04-25T06:00:00.000Z'],
    [
      'decimalMark',
      OPEN_NUMBERS.replace('1.219', '1.25'),
      { decimalMark: ',' },
      '.',
      '2026-03-04T06:00:00.000Z',
    ],
    ['timeUnit', elapsed('Elapsed [s]'), { timeUnit: 'ms' }, 's', null],
    [
      'startedAt',
      DATED,
      { startedAt: '2020-01-01T00:00', dayOrder: 'day-first' },
      '2026-04-03T06:00:00.000Z',
      '2026-04-03T06:00:00.000Z',
    ],
    [
      'timeZone',
      DATED.replace('Time;', 'Time (UTC+2);'),
      { timeZone: 'Europe/Lisbon', dayOrder: 'day-first' },
      '+02:00',
      '2026-04-03T04:00:00.000Z',
    ],
  ] as const)(
    '%s: the file is followed, and the report says so',
    async (question, text, answers, found, start) => {
      const log = await read(text, answers)
      expect(startOf(log)).toBe(start)
      expect(problem(log, 'answer-not-used')?.values).toMatchObject({ question, found })
    },
  )

  it('are no contradiction where both readings are one', async () => {
    const log = await read(DATED.replaceAll('03/04/2026', '03/03/2026'), { dayOrder: 'month-first' })
    expect(problem(log, 'answer-not-used')).toBeUndefined()
    expect(startOf(log)).toBe('2026-03-03T06:00:00.000Z')
  })

  it('refuse a time zone that is none', async () => {
    await expect(read(DATED, { timeZone: 'Nowhere/Land' })).rejects.toMatchObject({
      code: 'time-zone-unknown',
    })
  })
})
