import { expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { monthCharges } from '@/lib/months/charges'
import { summarise } from '@/lib/months/summary'

const KWH = 3.6e6
const site = siteSchema.parse({
  tariff: {
    demand: { pricePerKWMonth: 8, windowMinutes: 15, coincidenceShare: 0.5 },
    reactive: { pricePerKvarh: 0.02 },
  },
  tariffs: [{ from: '2026-07-01', energyPricePerKWh: 0.2, demand: { pricePerKWMonth: 10 } }],
})
const none = summarise([], [])

it('demand: highest mean × price × coincidence; 20 kW at 8 and a half are 80', () => {
  expect(monthCharges('2026-03', { ...none, peakW: 20_000 }, site).demand).toBeCloseTo(80, 9)
  expect(monthCharges('2026-07', { ...none, peakW: 20_000 }, site).demand).toBeCloseTo(200, 9)
  expect(monthCharges('2026-03', none, site).demand).toBeNull()
})

it('power factor: 1,000 kWh at 800 kvarh, half a kvarh a kWh free: 300 kvarh at 0.02 are 6', () => {
  const reactive = { varS: 800 * KWH, electricJ: 1000 * KWH, isRatedVoltage: false }
  expect(monthCharges('2026-03', { ...none, reactive }, site).reactive).toBeCloseTo(6, 9)
  const good = { ...reactive, varS: 400 * KWH }
  expect(monthCharges('2026-03', { ...none, reactive: good }, site).reactive).toBe(0)
})

it('no data where current and power are not logged, nothing where the tariff charges nothing', () => {
  expect(monthCharges('2026-03', none, site).reactive).toBeNull()
  const reactive = { varS: KWH, electricJ: KWH, isRatedVoltage: false }
  expect(monthCharges('2026-07', { ...none, reactive }, site).reactive).toBeNull()
})
