import { describe, expect, it } from 'vitest'
import { type Site, siteSchema } from '@/lib/contract/site'
import { localDay } from '@/lib/economics/local-time'
import { priceAt as priceAtHour, priceStretches, weekMeanPrice } from '@/lib/economics/tariff'
import { onlyBand, VIENNA } from './site'

const MS_PER_H = 3_600_000
const sunday = 7

/** The plain week from Monday 2026-06-01: a price by weekday and hour. */
const priceAt = ({ weekday, hour }: { weekday: number; hour: number }, site: Site) =>
  priceAtHour(localDay(`2026-06-0${weekday}`), hour, site)

describe('price of an instant on the wall clock', () => {
  it.each([
    ['Monday noon', 1, 12, 0.3],
    ['Monday 6:00, first instant of the day band', 1, 6, 0.3],
    ['Monday just before 6', 1, 5.99, 0.15],
    ['Monday 22:00, first instant of the night', 1, 22, 0.15],
    ['Saturday noon, no band', 6, 12, 0.2],
    ['Monday 1:00, night of Sunday', 1, 1, 0.15],
  ])('%s', (_name, weekday, hour, price) => {
    expect(priceAt({ weekday, hour }, VIENNA)).toBe(price)
  })

  it('a band past midnight belongs to the weekday it begins on', () => {
    const site = onlyBand(22, 6, [5])
    expect(priceAt({ weekday: 5, hour: 23 }, site)).toBe(1)
    expect(priceAt({ weekday: 6, hour: 5 }, site)).toBe(1)
    expect(priceAt({ weekday: 5, hour: 5 }, site)).toBe(0)
    expect(priceAt({ weekday: 6, hour: 23 }, site)).toBe(0)
  })
  it('Sunday night runs on into Monday', () => {
    expect(priceAt({ weekday: 1, hour: 5 }, onlyBand(22, 6, [sunday]))).toBe(1)
  })
  it('0 to 24 and an hour to the same hour are whole days', () => {
    expect(priceAt({ weekday: 3, hour: 23.9 }, onlyBand(0, 24))).toBe(1)
    expect(priceAt({ weekday: 3, hour: 0 }, onlyBand(0, 24))).toBe(1)
    expect(priceAt({ weekday: 3, hour: 4 }, onlyBand(6, 6))).toBe(1)
  })
  it('the first band that holds an instant wins', () => {
    const bands = [
      { name: 'a', weekdays: [1], fromHour: 8, toHour: 10, pricePerKWh: 0.5 },
      { name: 'b', weekdays: [1], fromHour: 0, toHour: 24, pricePerKWh: 0.1 },
    ]
    const site = siteSchema.parse({ tariff: { bands } })
    expect(priceAt({ weekday: 1, hour: 9 }, site)).toBe(0.5)
    expect(priceAt({ weekday: 1, hour: 11 }, site)).toBe(0.1)
  })
})

/**
 * Cost of 1 kW all day in Vienna, by hand. Night 0.15, workday 6–22 0.30, weekend 6–22 0.20.
 * Plain Monday: 8 h night, 16 h day. Sunday 2026-03-29 skips 2:00–3:00 (23 h): 7 h night, 16 h flat.
 * Sunday 2026-10-25 repeats 2:00–3:00 (25 h): 9 h night, 16 h flat.
 */
describe('a day of 1 kW, worked by hand, both days of changed clocks included', () => {
  it.each([
    ['2026-03-23T00:00+01:00', '2026-03-24T00:00+01:00', 24, 8 * 0.15 + 16 * 0.3],
    ['2026-03-22T00:00+01:00', '2026-03-23T00:00+01:00', 24, 8 * 0.15 + 16 * 0.2],
    ['2026-03-29T00:00+01:00', '2026-03-30T00:00+02:00', 23, 7 * 0.15 + 16 * 0.2],
    ['2026-10-25T00:00+02:00', '2026-10-26T00:00+01:00', 25, 9 * 0.15 + 16 * 0.2],
  ])('%s to %s: %d h', (from, to, hours, cost) => {
    const stretches = priceStretches(Date.parse(from), Date.parse(to), VIENNA)
    expect(hoursOf(stretches)).toBeCloseTo(hours, 9)
    expect(costOf(stretches)).toBeCloseTo(cost, 9)
  })
})

describe('bands with edges inside the changed hour', () => {
  const spring = [Date.parse('2026-03-29T00:00+01:00'), Date.parse('2026-03-30T00:00+02:00')] as const
  const autumn = [Date.parse('2026-10-25T00:00+02:00'), Date.parse('2026-10-26T00:00+01:00')] as const
  it.each([
    ['spring skips 2:00–3:00', spring, 2, 3, 0],
    ['spring leaves half an hour of 1:30–2:30', spring, 1.5, 2.5, 0.5],
    ['spring leaves half an hour of 2:30–3:30', spring, 2.5, 3.5, 0.5],
    ['autumn has 2:00–3:00 twice', autumn, 2, 3, 2],
    ['autumn has 2:00–2:30 twice, apart', autumn, 2, 2.5, 1],
    ['autumn has 2:30–3:00 twice before 4:00', autumn, 2.5, 4, 2],
  ])('%s', (_name, [from, to], fromHour, toHour, hours) => {
    expect(costOf(priceStretches(from, to, onlyBand(fromHour, toHour)))).toBeCloseTo(hours, 9)
  })
})

describe('without bands', () => {
  const flat = siteSchema.parse({ timeZone: 'Europe/Vienna', energyPricePerKWh: 0.18 })
  it('is one stretch at the flat price', () => {
    expect(priceStretches(0, 5 * MS_PER_H, flat)).toEqual([
      { startMs: 0, endMs: 5 * MS_PER_H, pricePerKWh: 0.18 },
    ])
  })
  it("has the flat price as its week's mean", () => {
    expect(weekMeanPrice(flat)).toBeCloseTo(0.18, 12)
  })
})

it('mean of a plain week by hand: 56 h night, 80 h workdays, 32 h weekend', () => {
  expect(weekMeanPrice(VIENNA)).toBeCloseTo((56 * 0.15 + 80 * 0.3 + 32 * 0.2) / 168, 12)
})

type Stretches = ReturnType<typeof priceStretches>

function hoursOf(stretches: Stretches): number {
  return stretches.reduce((sum, { startMs, endMs }) => sum + (endMs - startMs) / MS_PER_H, 0)
}

function costOf(stretches: Stretches): number {
  return stretches.reduce((sum, s) => sum + ((s.endMs - s.startMs) / MS_PER_H) * s.pricePerKWh, 0)
}
