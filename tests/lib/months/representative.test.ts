import { expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { plannedStretches } from '@/lib/economics/planned-time'
import { representative } from '@/lib/months/representative'

const machine = { id: 'a', name: 'A' }
const site = siteSchema.parse({
  timeZone: 'Europe/Vienna',
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
      ],
    },
  ],
})
const span = (from: string, to: string) => ({ fromMs: Date.parse(from), toMs: Date.parse(to) })
const planned = plannedStretches('2026-03', machine, site)

it('says which shifts and weekdays the logs do not stand for, by hand', () => {
  // Monday 2 March 6:00–14:00 and two hours of Tuesday's early shift, one hour before it.
  const spans = [
    span('2026-03-02T06:00+01:00', '2026-03-02T14:00+01:00'),
    span('2026-03-03T05:00+01:00', '2026-03-03T08:00+01:00'),
  ]
  const { shifts, notes, weekdays } = representative(spans, planned, 2, 0, site.timeZone)
  expect(shifts).toEqual([
    { name: 'early', plannedHours: 22 * 8, loggedHours: 10 },
    { name: 'late', plannedHours: 22 * 8, loggedHours: 0 },
  ])
  expect(weekdays.map(({ name, loggedHours }) => [name, loggedHours])).toEqual([
    ['1', 8],
    ['2', 2],
    ['3', 0],
    ['4', 0],
    ['5', 0],
  ])
  expect(notes).toEqual([
    { code: 'few-days', values: { days: 2 } },
    { code: 'weekday-not-logged', values: { weekdays: '3 4 5' } },
    { code: 'shift-not-logged', values: { shift: 'late', plannedHours: 176 } },
  ])
})

it('names what was logged outside of all shifts, and what was recorded twice', () => {
  const night = [span('2026-03-02T22:00+01:00', '2026-03-03T06:00+01:00')]
  const { notes } = representative(night, planned, 5, 7200, site.timeZone)
  expect(notes).toContainEqual({ code: 'outside-shifts', values: { hours: 8 } })
  expect(notes).toContainEqual({ code: 'recorded-twice', values: { hours: 2 } })
})

it('without a calendar says so and names the weekdays that were logged', () => {
  const { notes, weekdays } = representative(
    [span('2026-03-02T06:00Z', '2026-03-02T08:00Z')],
    null,
    3,
    0,
    'UTC',
  )
  expect(notes).toEqual([{ code: 'no-calendar', values: {} }])
  expect(weekdays).toEqual([{ name: '1', plannedHours: 0, loggedHours: 2 }])
})

it('counts every recording, whether it begins before a shift, lies over two of them or between', () => {
  const at = (hour: number) => Date.parse('2026-03-02T00:00:00+01:00') + hour * 3_600_000
  const hours = ([from, to]: readonly [number, number]) => ({ fromMs: at(from), toMs: at(to) })
  // Early is 6 to 14, late 14 to 22: an hour early, one outside, two on either side of the change, one late.
  const spans = (
    [
      [5, 7],
      [12, 16],
      [21, 23],
      [30, 31],
    ] as const
  ).map(hours)
  const { shifts } = representative(spans, plannedStretches('2026-03', machine, site), 2, 0, site.timeZone)
  const logged = Object.fromEntries(shifts.map(({ name, loggedHours }) => [name, loggedHours]))
  expect(logged).toEqual({ early: 1 + 2 + 1, late: 2 + 1 })
})
