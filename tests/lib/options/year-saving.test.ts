import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { handRunKW, handShaftKW } from '../../laws/hand-machine'
import { DUTY, ledgerOf, rankedFor, STROKE_KJ, STROKES } from './hand-options'

const ledger = ledgerOf()
const PRICE = 0.3
const siteOf = (part: object) =>
  siteSchema.parse({ plannedHoursPerYear: 3400, energyPricePerKWh: PRICE, ...part })
const ventOn = (part: object) => {
  const found = rankedFor(ledger, siteOf(part), PRICE).options.find(({ id }) => id === 'vent-relief-at-idle')
  if (!found) throw new Error('listed always')
  return found
}
const value = (of: { value: number } | null) => of?.value ?? Number.NaN

describe('cooling', () => {
  const plain = ventOn({})
  const cooled = ventOn({ cooling: { electricPerHeat: 0.35 }, emissionKgPerKWh: 0.2 })
  // Vented 19.5 s of every 34 s stroke: shaft power from 160 to 5 bar that no longer becomes heat, all year.
  const savedHeatKWh = (19.5 / 34) * (handShaftKW(160) - handShaftKW(5)) * 3400
  it('is not powered unless somebody says so', () => {
    expect(plain.savedCoolingKWhPerYear).toMatchObject({ value: 0, low: 0, high: 0 })
  })
  it('saves its electricity for the heat that is no longer made, by hand', () => {
    expect(value(cooled.savedCoolingKWhPerYear) / (0.35 * savedHeatKWh)).toBeCloseTo(1, 3)
  })
  it('is part of cost and carbon and stands apart from the energy saved', () => {
    expect(value(cooled.savedKWhPerYear)).toBeCloseTo(value(plain.savedKWhPerYear), 6)
    const whole = value(cooled.savedKWhPerYear) + value(cooled.savedCoolingKWhPerYear)
    expect(value(cooled.savedCostPerYear) / (PRICE * whole)).toBeCloseTo(1, 9)
    expect(value(cooled.savedKgCO2PerYear) / (0.2 * whole)).toBeCloseTo(1, 9)
  })
  it("the machine's own word outranks the site's", () => {
    const own = ledgerOf(DUTY, { ...ledger.plate, cooling: { electricPerHeat: 0.1 } })
    const { options } = rankedFor(own, siteOf({ cooling: { electricPerHeat: 0.35 } }), PRICE)
    const vent = options.find(({ id }) => id === 'vent-relief-at-idle')
    expect(value(vent?.savedCoolingKWhPerYear ?? null) / (0.1 * savedHeatKWh)).toBeCloseTo(1, 3)
  })
})

describe('demand charge', () => {
  /** The hand duty repeats every 34 s: a window of 68 s holds two strokes, and every window is alike. */
  const demand = { pricePerKWMonth: 10, windowMinutes: 68 / 60, coincidenceShare: 0.5 }
  it('by hand: mean power of a stroke before and after, twelve months', () => {
    const vented = ventOn({ tariff: { demand } })
    const savedKW = (19.5 * (handRunKW(160) - handRunKW(5))) / 34
    expect(value(vented.savedDemandCostPerYear) / (savedKW * 10 * 0.5 * 12)).toBeCloseTo(1, 3)
    expect(value(vented.savedMoneyPerYear)).toBeCloseTo(
      value(vented.savedCostPerYear) + value(vented.savedDemandCostPerYear),
      6,
    )
  })
  it('a short window sees the peak, which venting while idle leaves as it is', () => {
    // 2 s lie within the 5 s of metering at 155.2 bar or the first half second of idle at 160: both stay.
    const short = ventOn({ tariff: { demand: { ...demand, windowMinutes: 2 / 60 } } })
    const long = ventOn({ tariff: { demand } })
    expect(value(short.savedDemandCostPerYear)).toBeLessThan(0.2 * value(long.savedDemandCostPerYear))
  })
  it('is not judged where the log is shorter than a window, and counts as nothing', () => {
    const unknown = ventOn({ tariff: { demand: { ...demand, windowMinutes: 15 } } })
    expect(unknown.savedDemandCostPerYear).toBeNull()
    expect(value(unknown.savedMoneyPerYear)).toBeCloseTo(value(unknown.savedCostPerYear), 9)
  })
  it('is nothing without one in the tariff', () => {
    expect(ventOn({}).savedDemandCostPerYear).toMatchObject({ value: 0, low: 0, high: 0 })
  })
})

describe('upkeep and life of an option', () => {
  const plain = ventOn({})
  it('upkeep comes off the money saved, not off the energy', () => {
    const kept = ventOn({ optionMaintenance: { 'vent-relief-at-idle': [50, 80, 120] } })
    expect(kept.maintenanceCostPerYear).toMatchObject({ value: 80, low: 50, high: 120 })
    expect(value(kept.savedMoneyPerYear)).toBeCloseTo(value(plain.savedMoneyPerYear) - 80, 6)
    expect(value(kept.savedCostPerYear)).toBeCloseTo(value(plain.savedCostPerYear), 9)
  })
  it('a life of its own: annuity over 5 years at 8 % is 3.992710 (annuity tables, from memory)', () => {
    const short = ventOn({ optionLifetimeYears: { 'vent-relief-at-idle': 5 } })
    const worth = 3.99271 * value(plain.savedMoneyPerYear) - value(plain.investment)
    expect(value(short.netPresentValue) / worth).toBeCloseTo(1, 5)
  })
  it('the logged input goes in: saving of a year by hand', () => {
    const savedKWh = (value(plain.savedShare) * STROKE_KJ * STROKES * 36_000) / 3600
    expect(value(plain.savedKWhPerYear) / savedKWh).toBeCloseTo(1, 6)
  })
})
