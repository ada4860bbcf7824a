import { expect, it } from 'vitest'
import { checkSite, siteDraftOf, siteJsonOf } from '@/app/_ui/site/site-draft'
import { newVersion } from '@/app/_ui/site/tariff-draft'
import { versionChanges } from '@/app/_ui/site/version-changes'
import { siteSchema } from '@/lib/contract/site'

const site = siteSchema.parse({
  name: 'Mill Lane',
  timeZone: 'Europe/Vienna',
  energyPricePerKWh: 0.18,
  tariff: {
    bands: [{ name: 'Day', weekdays: [1, 2, 3, 4, 5], fromHour: 6, toHour: 22, pricePerKWh: 0.21 }],
    demand: { pricePerKWMonth: 9.5, windowMinutes: 15, coincidenceShare: 0.7 },
  },
  optionCosts: { 'vent-relief-at-idle': [600, 900, 1500] },
  optionMaintenance: { 'accumulator-charging': [80, 150, 300], 'restore-pump': [-40, -20, 0] },
  optionLifetimeYears: { 'vent-relief-at-idle': 7.5 },
  energyPriceLimitShare: 0.25,
  discountRateLimit: 0.03,
  lifetimeLimitShare: 0.3,
  cooling: { electricPerHeat: 0.35 },
  budget: 5000,
})

it('gives back the site it was filled from, unchanged', () => {
  expect(checkSite(siteJsonOf(siteDraftOf(site))).site).toEqual(site)
  const plain = siteSchema.parse({})
  expect(checkSite(siteJsonOf(siteDraftOf(plain))).site).toEqual(plain)
})

it('refuses zones, currencies and cost orders that cannot be', () => {
  const draft = siteDraftOf(site)
  const text = { ...draft.text, timeZone: 'Europe/Nowhere', currency: 'eur' }
  const costs = { ...draft.costs, 'smaller-pump': ['900', '600', '1500'] as const }
  const { site: none, errors } = checkSite(siteJsonOf({ ...draft, text, costs }))
  expect(none).toBeNull()
  expect(Object.keys(errors).sort()).toEqual(['currency', 'optionCosts.smaller-pump', 'timeZone'])
})

it('says which of three costs is missing', () => {
  const draft = siteDraftOf(site)
  const costs = { ...draft.costs, 'smaller-pump': ['900', '', ''] as const }
  const { errors } = checkSite(siteJsonOf({ ...draft, costs }))
  expect(Object.keys(errors)).toContain('optionCosts.smaller-pump.1')
})

it('refuses upkeep out of order and a life that is none, and names the option', () => {
  const draft = siteDraftOf(site)
  const upkeep = { ...draft.upkeep, 'smaller-pump': ['90', '60', '150'] as const }
  const lives = { ...draft.lives, 'smaller-pump': 'ten', 'restore-pump': '0' }
  const { errors } = checkSite(siteJsonOf({ ...draft, upkeep, lives, cooling: '-1', budget: 'much' }))
  expect(Object.keys(errors).sort()).toEqual([
    'budget',
    'cooling.electricPerHeat',
    'optionLifetimeYears.restore-pump',
    'optionLifetimeYears.smaller-pump',
    'optionMaintenance.smaller-pump',
  ])
  expect(errors['optionMaintenance.smaller-pump']).toMatch(/rise in this order/)
})

const dated = siteSchema.parse({
  ...site,
  tariff: {
    bands: [
      {
        name: 'Winter peak',
        weekdays: [1, 2, 3, 4, 5],
        dayTypes: ['bridge day'],
        seasons: [{ from: '11-01', to: '03-31' }],
        fromHour: 17,
        toHour: 20,
        pricePerKWh: 0.31,
      },
    ],
    reactive: { pricePerKvarh: 0.015, freeKvarhPerKWh: 0.4 },
  },
  tariffs: [
    { from: '2026-01-01', until: '2026-12-31', energyPricePerKWh: 0.17, bands: [] },
    {
      name: 'Contract 2027',
      from: '2027-01-01',
      energyPricePerKWh: 0.16,
      bands: [{ name: 'Night', weekdays: [7], fromHour: 22, toHour: 6, pricePerKWh: 0.11 }],
      demand: { pricePerKWMonth: 8, windowMinutes: 15, coincidenceShare: 1 },
    },
  ],
  emissions: [{ from: '2026-01-01', kgPerKWh: 0.19 }],
  holidays: [
    { date: '12-25', name: 'Christmas Day' },
    { date: '2026-05-15', countsAs: 'bridge day' },
  ],
  calendars: [
    {
      name: 'Two shifts',
      from: '2026-01-01',
      machines: ['press-4'],
      days: [
        {
          weekdays: [1, 2, 3, 4, 5],
          shifts: [
            { name: 'Early', fromHour: 6, toHour: 14 },
            { fromHour: 14, toHour: 22 },
          ],
        },
        { dayTypes: ['bridge day'], shifts: [{ fromHour: 6, toHour: 12 }] },
      ],
      exceptions: [
        { from: '2026-08-03', until: '2026-08-14', shifts: [], note: 'summer shutdown' },
        { from: '2026-09-05', shifts: [{ fromHour: 6, toHour: 14 }] },
      ],
    },
  ],
})

it('gives back seasons, dated prices, factors, holidays and calendars unchanged', () => {
  expect(checkSite(siteJsonOf(siteDraftOf(dated))).site).toEqual(dated)
})

it('says beside each entry what is wrong with dates, seasons and shifts', () => {
  const draft = siteDraftOf(dated)
  const [first, second] = draft.versions
  const [band] = draft.tariff.bands
  const [holiday] = draft.holidays
  const [calendar] = draft.calendars
  const { site: none, errors } = checkSite(
    siteJsonOf({
      ...draft,
      tariff: { ...draft.tariff, bands: [{ ...band, seasons: [{ key: 'a', from: '1 Nov', to: '03-31' }] }] },
      versions: [
        { ...first, until: '2025-01-01' },
        { ...second, from: '' },
      ],
      holidays: [{ ...holiday, date: 'Easter' }],
      calendars: [
        {
          ...calendar,
          days: [{ ...calendar.days[0], shifts: [{ key: 's', name: '', fromHour: '25', toHour: '6' }] }],
        },
      ],
    }),
  )
  expect(none).toBeNull()
  expect(errors).toMatchObject({
    'tariff.bands.0.seasons.0.from': 'Enter month and day, as in 11-01.',
    'tariffs.1.from': 'Enter the day, as in 2026-03-31.',
    'holidays.0.date': 'Enter the day, as in 2026-12-24, or 12-24 for every year.',
    'calendars.0.days.0.shifts.0.fromHour': 'Must be at most 24.',
  })
  const late = checkSite(siteJsonOf({ ...draft, versions: [{ ...first, until: '2025-01-01' }, second] }))
  expect(late.errors['tariffs.0.until']).toMatch(/2026-01-01 or later/)
  const ended = { ...calendar.exceptions[0], until: '2026-08-01' }
  const shut = checkSite(siteJsonOf({ ...draft, calendars: [{ ...calendar, exceptions: [ended] }] }))
  expect(shut.errors['calendars.0.exceptions.0.until']).toBe('Must be 2026-08-03 or later.')
})

it('begins a price with dates with the bands of the one before, and none of its days', () => {
  const draft = siteDraftOf(dated)
  const version = newVersion(draft.versions[1], '0.15')
  expect(version).toMatchObject({ from: '', until: '', price: '0.15', demand: { price: '8' } })
  expect(version.bands.map(({ name }) => name)).toEqual(['Night'])
  expect(version.bands[0].key).not.toBe(draft.versions[1].bands[0].key)
})

it('tells what one state of the settings changed of the one before', () => {
  const after = { ...dated, energyPricePerKWh: 0.2, holidays: undefined }
  expect(versionChanges(dated, after)).toEqual([
    { what: 'Energy price', was: '0.18', is: '0.2' },
    { what: 'Holidays', was: 'Christmas Day from 12-25, from 2026-05-15', is: 'none' },
  ])
  expect(versionChanges(dated, dated)).toEqual([])
})
