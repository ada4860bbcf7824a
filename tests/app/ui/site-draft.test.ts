import { expect, it } from 'vitest'
import { checkSite, siteDraftOf, siteJsonOf } from '@/app/_ui/site/site-draft'
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
