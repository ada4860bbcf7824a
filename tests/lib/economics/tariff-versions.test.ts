import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { priceStretches, weekMeanPrice } from '@/lib/economics/tariff'
import { emissionOn, repricedDay, siteMet, tariffOn } from '@/lib/economics/tariff-version'

const MS_PER_H = 3_600_000
const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7]
const WORKDAYS = [1, 2, 3, 4, 5]

/** Until June 2026 a flat 0.20; from July 0.30 by day in winter, 0.25 else, 0.10 by night, 0.05 on Sundays. */
const site = siteSchema.parse({
  timeZone: 'Europe/Vienna',
  energyPricePerKWh: 0.2,
  emissionKgPerKWh: 0.25,
  tariffs: [
    {
      from: '2026-07-01',
      energyPricePerKWh: 0.25,
      bands: [
        { name: 'night', weekdays: EVERY_DAY, fromHour: 22, toHour: 6, pricePerKWh: 0.1 },
        { name: 'Sunday', weekdays: [7], dayTypes: ['bridge'], fromHour: 6, toHour: 22, pricePerKWh: 0.05 },
        {
          name: 'winter day',
          weekdays: WORKDAYS,
          seasons: [{ from: '11-01', to: '03-31' }],
          fromHour: 6,
          toHour: 22,
          pricePerKWh: 0.3,
        },
      ],
    },
  ],
  emissions: [{ from: '2026-01-01', until: '2026-12-31', kgPerKWh: 0.2 }],
  holidays: [
    { date: '10-26', name: 'fixed' },
    { date: '2026-12-24', countsAs: 'bridge' },
  ],
})

/** Cost of 1 kW drawn from midnight to midnight. */
function dayCost(from: string, to: string): number {
  const stretches = priceStretches(Date.parse(from), Date.parse(to), site)
  return stretches.reduce((sum, s) => sum + ((s.endMs - s.startMs) / MS_PER_H) * s.pricePerKWh, 0)
}

/**
 * Worked by hand. Night 22–6 is 8 h of a plain day, 6 + 2 = 8; where the clock goes forward at 2 it is 7 h, where it
 * goes back 9 h. A type of day that no night band names is not at night price: 24 December has 6 h of night from the
 * day before, then 16 h at 0.05 and 2 h at the flat 0.25.
 */
describe('seasons, holidays, versions and changed clocks, worked by hand', () => {
  it.each([
    ['before the version', '2026-06-30T00:00+02:00', '2026-07-01T00:00+02:00', 24 * 0.2],
    ['its first day, summer', '2026-07-01T00:00+02:00', '2026-07-02T00:00+02:00', 8 * 0.1 + 16 * 0.25],
    ['the 25 h Sunday', '2026-10-25T00:00+02:00', '2026-10-26T00:00+01:00', 9 * 0.1 + 16 * 0.05],
    [
      'a Monday that counts as Sunday',
      '2026-10-26T00:00+01:00',
      '2026-10-27T00:00+01:00',
      8 * 0.1 + 16 * 0.05,
    ],
    [
      'the last day of summer, a Saturday',
      '2026-10-31T00:00+01:00',
      '2026-11-01T00:00+01:00',
      8 * 0.1 + 16 * 0.25,
    ],
    ['a winter Monday', '2026-11-02T00:00+01:00', '2026-11-03T00:00+01:00', 8 * 0.1 + 16 * 0.3],
    [
      'over new year it is winter still',
      '2027-01-04T00:00+01:00',
      '2027-01-05T00:00+01:00',
      8 * 0.1 + 16 * 0.3,
    ],
    ['a type of day', '2026-12-24T00:00+01:00', '2026-12-25T00:00+01:00', 6 * 0.1 + 16 * 0.05 + 2 * 0.25],
    ['the day after it', '2026-12-25T00:00+01:00', '2026-12-26T00:00+01:00', 6 * 0.25 + 2 * 0.1 + 16 * 0.3],
    ['the 23 h Sunday', '2027-03-28T00:00+01:00', '2027-03-29T00:00+02:00', 7 * 0.1 + 16 * 0.05],
  ])('%s', (_name, from, to, cost) => {
    expect(dayCost(from, to)).toBeCloseTo(cost, 9)
  })

  it('splits a recording at midnight of the change', () => {
    expect(dayCost('2026-06-30T20:00+02:00', '2026-07-01T08:00+02:00')).toBeCloseTo(
      4 * 0.2 + 6 * 0.1 + 2 * 0.25,
      9,
    )
  })
  it('costs what has no date at the mean of the latest version: 56 h night, 16 h Sunday, 80 + 16 h day', () => {
    const winterShare = 151 / 365
    const workday = winterShare * 0.3 + (1 - winterShare) * 0.25
    expect(weekMeanPrice(site)).toBeCloseTo((56 * 0.1 + 16 * 0.05 + 80 * workday + 16 * 0.25) / 168, 12)
  })
})

it('an emission factor holds on its days, the first and the last among them', () => {
  expect(
    ['2025-12-31', '2026-01-01', '2026-12-31', '2027-01-01'].map((day) => emissionOn(day, site)),
  ).toEqual([0.25, 0.2, 0.2, 0.25])
})

describe('what a recording meets of the site', () => {
  const march = [Date.parse('2026-03-10T06:00Z'), Date.parse('2026-03-10T14:00Z')] as const
  const later = { from: '2026-09-01', energyPricePerKWh: 0.9, bands: [] }

  it('a price that begins later, a new shift or a far holiday leaves it as it was', () => {
    const changed = siteSchema.parse({
      ...site,
      tariffs: [...(site.tariffs ?? []), later],
      holidays: [],
      calendars: [{ name: 'one shift', days: [] }],
    })
    expect(siteMet(changed, ...march)).toEqual(siteMet(site, ...march))
  })
  it('the price it met is its own', () => {
    const october = [Date.parse('2026-10-10T06:00Z'), Date.parse('2026-10-10T14:00Z')] as const
    const changed = { ...site, tariffs: [...(site.tariffs ?? []), later] }
    expect(siteMet(site, ...october)).toMatchObject({ energyPricePerKWh: 0.25, emissionKgPerKWh: 0.2 })
    expect(siteMet(changed, ...october)).toMatchObject({ energyPricePerKWh: 0.9 })
    expect(siteMet(changed, ...october).tariffs).toBeUndefined()
  })
  it('prices the recording as the whole site does, over a change too', () => {
    const spans = [march, [Date.parse('2026-06-30T12:00Z'), Date.parse('2026-07-01T12:00Z')] as const]
    for (const [from, to] of spans) {
      expect(priceStretches(from, to, siteMet(site, from, to))).toSatisfy((met: unknown) => {
        const cost = (stretches: ReturnType<typeof priceStretches>) =>
          stretches.reduce((sum, s) => sum + (s.endMs - s.startMs) * s.pricePerKWh, 0)
        return Math.abs(cost(met as never) / cost(priceStretches(from, to, site)) - 1) < 1e-12
      })
    }
  })
  it('a site without versions is met as it is, but for its shifts', () => {
    const plain = siteSchema.parse({ energyPricePerKWh: 0.31 })
    expect(siteMet(plain, ...march)).toEqual(plain)
    expect(tariffOn('2026-03-10', plain)).toEqual({ energyPricePerKWh: 0.31, bands: [] })
  })
})

describe('versions that make no sense are refused with place, expected and actual', () => {
  it.each([
    [
      { from: '2026-05-01', until: '2026-04-30' },
      'tariffs.1.until',
      'expected 2026-05-01 or later, got 2026-04-30',
    ],
    [{ from: '2026-01-01' }, 'tariffs.1.from', 'expected another date, got 2026-01-01'],
  ])('%j', (dates, path, message) => {
    const price = { energyPricePerKWh: 0.2 }
    const read = siteSchema.safeParse({
      tariffs: [
        { from: '2026-01-01', ...price },
        { ...dates, ...price },
      ],
    })
    expect(read.error?.issues.map((issue) => [issue.path.join('.'), issue.message])).toEqual([
      [path, message],
    ])
  })
})

describe('the first day that other settings price otherwise', () => {
  const months = ['2026-09', '2026-06', '2026-12']
  it('is none where nothing changed, and none where only days to come do', () => {
    expect(repricedDay(months, '2026-12-24', site, site)).toBeNull()
    const later = { from: '2026-12-24', energyPricePerKWh: 0.5, bands: [] }
    const after = siteSchema.parse({ ...site, tariffs: [...(site.tariffs ?? []), later] })
    expect(repricedDay(months, '2026-12-24', site, after)).toBeNull()
    expect(repricedDay(months, '2026-12-25', site, after)).toBe('2026-12-24')
  })
  it('is the earliest of the months, whatever their order', () => {
    const after = siteSchema.parse({ ...site, energyPricePerKWh: 0.21 })
    expect(repricedDay(months, '2026-12-24', site, after)).toBe('2026-06-01')
    expect(repricedDay(['2026-09', '2026-12'], '2026-12-24', site, after)).toBeNull()
  })
})
