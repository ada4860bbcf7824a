import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { calendarOn, calendarYearHours, plannedHoursOf, plannedStretches } from '@/lib/economics/planned-time'

const machine = { id: 'baler-2', name: 'Baler 2' }
const other = { id: 'press-1', name: 'Press 1' }

const site = siteSchema.parse({
  timeZone: 'Europe/Vienna',
  plannedHoursPerYear: 1200,
  holidays: [{ date: '10-26' }, { date: '2026-12-24', countsAs: 'half day' }],
  calendars: [
    {
      name: 'two shifts',
      days: [
        {
          weekdays: [1, 2, 3, 4, 5],
          shifts: [
            { name: 'early', fromHour: 6, toHour: 14 },
            { name: 'late', fromHour: 14, toHour: 22 },
          ],
        },
        { dayTypes: ['half day'], shifts: [{ fromHour: 6, toHour: 12 }] },
      ],
      exceptions: [
        { from: '2026-08-03', until: '2026-08-14', shifts: [], note: 'works holiday' },
        { from: '2026-08-22', shifts: [{ fromHour: 6, toHour: 14 }] },
      ],
    },
    {
      name: 'nights',
      machines: ['Baler 2'],
      from: '2026-03-01',
      days: [{ weekdays: [1, 2, 3, 4, 5, 6, 7], shifts: [{ fromHour: 22, toHour: 6 }] }],
    },
  ],
})

/**
 * Worked by hand. August 2026 has 21 workdays, 10 of them shut, one Saturday of 8 h: 11 × 16 + 8. October has 22
 * workdays, Monday 26 counts as Sunday: 21 × 16. December has 23 workdays, the 24th has 6 h: 22 × 16 + 6. Nights 22–6
 * cover 8 h of every day; the night to Sunday 29 March is 7 h long, that to Sunday 25 October 9 h.
 */
describe('planned hours of a month, worked by hand', () => {
  it.each([
    ['shut for two weeks, one Saturday more', '2026-08', other, 11 * 16 + 8],
    ['a holiday', '2026-10', other, 21 * 16],
    ['a type of day', '2026-12', other, 22 * 16 + 6],
    ['nights of a plain month', '2026-05', machine, 31 * 8],
    ['nights with the 25 h day', '2026-10', machine, 31 * 8 + 1],
    [
      'nights that begin on 1 March, with the 23 h day: no night from February',
      '2026-03',
      machine,
      31 * 8 - 6 - 1 + 0,
    ],
  ])('%s', (_name, month, of, hours) => {
    // The common calendar has the 28th of February, a Saturday, free.
    expect(plannedHoursOf(month, of, site)).toBeCloseTo(hours, 9)
  })
  it('without a calendar a twelfth of the year', () => {
    expect(plannedHoursOf('2026-05', other, { ...site, calendars: undefined })).toBe(100)
    expect(plannedStretches('2026-05', other, { ...site, calendars: [] })).toBeNull()
  })
  it('what two shifts both cover counts once', () => {
    const days = [
      {
        weekdays: [1],
        shifts: [
          { fromHour: 6, toHour: 14 },
          { fromHour: 12, toHour: 16 },
        ],
      },
    ]
    const twice = siteSchema.parse({ calendars: [{ name: 'overlap', days }] })
    expect(plannedHoursOf('2026-06', other, twice)).toBe(5 * 10)
  })
  it('a calendar that names a machine holds for it alone', () => {
    expect(calendarOn('2026-05-01', machine, site)?.name).toBe('nights')
    expect(calendarOn('2026-05-01', other, site)?.name).toBe('two shifts')
    expect(calendarOn('2026-02-01', machine, site)?.name).toBe('two shifts')
  })
})

it('a year by calendar is the sum of its months, over new year too, and none without a calendar', () => {
  // 2027 by hand: 365 nights of 8 h; the night to 28 March is an hour shorter, that to 31 October an hour longer.
  expect(calendarYearHours('2027-01', machine, site)).toBeCloseTo(365 * 8, 9)
  const twelve = ['2026-07', '2026-08', '2026-09', '2026-10', '2026-11', '2026-12']
    .concat(['2027-01', '2027-02', '2027-03', '2027-04', '2027-05', '2027-06'])
    .reduce((sum, month) => sum + plannedHoursOf(month, other, site), 0)
  expect(calendarYearHours('2026-07', other, site)).toBeCloseTo(twelve, 9)
  expect(calendarYearHours('2026-07', other, siteSchema.parse({}))).toBeNull()
})
