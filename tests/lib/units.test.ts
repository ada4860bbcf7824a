import fc from 'fast-check'
import Qty from 'js-quantities'
import { describe, expect, it } from 'vitest'
import {
  ATMOSPHERE_PA,
  fromSi,
  J_PER_KWH,
  M3_PER_CM3,
  M3S_PER_GPM,
  M3S_PER_LPM,
  PA_PER_BAR,
  PA_PER_PSI,
  RADS_PER_RPM,
  S_PER_HOUR,
  siOf,
  toSi,
  UNITS,
  type Unit,
  W_PER_HP,
  W_PER_KW,
} from '@/lib/units'

/** Unit names of js-quantities 1.8 and the SI unit this project keeps them in. */
const REFERENCE: Record<Exclude<Unit, '1'>, readonly [name: string, si: string]> = {
  bar: ['bar', 'Pa'],
  kPa: ['kPa', 'Pa'],
  MPa: ['MPa', 'Pa'],
  psi: ['psi', 'Pa'],
  'L/min': ['l/min', 'm3/s'],
  gpm: ['gal/min', 'm3/s'],
  'm³/h': ['m3/h', 'm3/s'],
  A: ['A', 'A'],
  V: ['V', 'V'],
  kW: ['kW', 'W'],
  W: ['W', 'W'],
  hp: ['hp', 'W'],
  rpm: ['rpm', 'rad/s'],
  '°C': ['tempC', 'tempC'],
  '°F': ['tempF', 'tempC'],
}

describe('against js-quantities (its psi and gallon are rounded: 1e-6)', () => {
  it.each(Object.entries(REFERENCE))('%s', (unit, [name, si]) => {
    for (const value of [1, 37.5, 212]) {
      const reference = new Qty(value, name).to(si).scalar
      const got = toSi(value, unit as Unit)
      expect(Math.abs(got - reference)).toBeLessThanOrEqual(1e-6 * Math.abs(reference))
    }
  })
})

describe('published constants', () => {
  it('1 hp = 745.6998716 W, 550 foot-pounds force a second', () => {
    expect(W_PER_HP).toBeCloseTo(550 * 0.3048 * 0.45359237 * 9.80665, 6)
  })
  it('1 hp = 2544.43 Btu/h (International Table Btu = 1055.05585262 J)', () => {
    expect((W_PER_HP * S_PER_HOUR) / 1055.05585262).toBeCloseTo(2544.43, 2)
  })
  it('1 psi = 6894.757293168 Pa, a pound force on a square inch', () => {
    expect(PA_PER_PSI).toBeCloseTo((0.45359237 * 9.80665) / 0.0254 ** 2, 8)
  })
  it('1 US gallon = 3.785411784 L, 231 cubic inches, exact', () => {
    expect(M3S_PER_GPM * 60).toBeCloseTo(231 * 0.0254 ** 3, 15)
  })
  it('hp = psi · gpm / 1714.2857', () => {
    const horsepower = (PA_PER_PSI * M3S_PER_GPM) / W_PER_HP
    expect(1 / horsepower).toBeCloseTo(1714.2857, 3)
    expect(horsepower).toBeCloseTo(0.000583, 6)
  })
  it('Btu/h = 1.48425 · psi · gpm', () => {
    expect((PA_PER_PSI * M3S_PER_GPM * S_PER_HOUR) / 1055.05585262).toBeCloseTo(1.48425, 4)
  })
  it('kW = bar · L/min / 600', () => {
    expect(W_PER_KW / (PA_PER_BAR * M3S_PER_LPM)).toBeCloseTo(600, 9)
  })
  it('the standard atmosphere is 101 325 Pa, a kWh 3.6 MJ, a cm³ 1e-6 m³', () => {
    expect(ATMOSPHERE_PA).toBe(101_325)
    expect(J_PER_KWH).toBe(W_PER_KW * S_PER_HOUR)
    expect(M3_PER_CM3).toBeCloseTo(0.01 ** 3, 18)
  })
})

describe('worked examples of the trade', () => {
  const hydraulicKW = (bar: number, lpm: number) => fromSi(toSi(bar, 'bar') * toSi(lpm, 'L/min'), 'kW')

  it('250 bar at 180 L/min is 75 kW, and 86.2 kW at the shaft at 0.87 (trade page)', () => {
    expect(hydraulicKW(250, 180)).toBeCloseTo(75, 9)
    expect(hydraulicKW(250, 180) / 0.87).toBeCloseTo(86.2, 1)
  })
  it('18 cm³ at 1500 rpm, volumetric efficiency 0.92, 160 bar: 24.84 L/min, 6.624 kW, 7.793 kW', () => {
    const turnsPerS = toSi(1500, 'rpm') / (2 * Math.PI)
    const flow = 18 * M3_PER_CM3 * turnsPerS * 0.92
    expect(fromSi(flow, 'L/min')).toBeCloseTo(24.84, 9)
    expect(hydraulicKW(160, fromSi(flow, 'L/min'))).toBeCloseTo(6.624, 9)
    expect(hydraulicKW(160, fromSi(flow, 'L/min')) / 0.85).toBeCloseTo(7.793, 3)
  })
  it('20 gpm at 2500 psi is 29.17 hp', () => {
    expect(fromSi(toSi(2500, 'psi') * toSi(20, 'gpm'), 'hp')).toBeCloseTo(29.17, 2)
  })
  it('water freezes at 32 °F and boils at 212 °F', () => {
    expect(toSi(32, '°F')).toBeCloseTo(0, 12)
    expect(toSi(212, '°F')).toBeCloseTo(100, 12)
  })
  it('a full turn a minute is 2π/60 rad/s', () => {
    expect(RADS_PER_RPM * 60).toBeCloseTo(2 * Math.PI, 12)
  })
})

describe('laws', () => {
  it('there and back is the same value, in every unit', () => {
    const value = fc.double({ min: -1e6, max: 1e6, noNaN: true })
    fc.assert(
      fc.property(value, fc.constantFrom(...UNITS), (number, unit) => {
        expect(Math.abs(fromSi(toSi(number, unit), unit) - number)).toBeLessThanOrEqual(
          1e-9 * (1 + Math.abs(number)),
        )
      }),
    )
  })
  it('factor and offset say what the conversion does', () => {
    for (const unit of UNITS) {
      const { factor, offset } = siOf(unit)
      expect(toSi(7, unit)).toBe(7 * factor + offset)
    }
  })
  it('missing stays missing', () => {
    expect(toSi(Number.NaN, 'bar')).toBeNaN()
  })
})
