import { describe, expect, it } from 'vitest'
import type { MotorNameplate } from '@/lib/contract/machine'
import { startLimits } from '@/lib/machine/starts-per-hour'

/** NEMA MG 10, 4-pole Design A/B: hp, most starts an hour, least rest in s. */
const ROWS = [
  [5, 16.3, 42],
  [10, 12.5, 46],
  [15, 10.7, 50],
  [20, 9.6, 55],
  [25, 8.8, 58],
  [30, 8.2, 60],
  [40, 7.4, 65],
  [50, 6.8, 72],
  [75, 5.8, 90],
  [100, 5.2, 110],
  [150, 4.5, 160],
  [200, 4.0, 300],
] as const

const plate = (hp: number, poles = 4): MotorNameplate => ({
  ratedPowerKW: hp * 0.7456998716,
  ratedVoltageV: 400,
  ratedCurrentA: 1.5 * hp,
  ratedPowerFactor: 0.86,
  ratedEfficiency: 0.9,
  ratedSpeedRpm: 5880 / poles,
  poles,
  frequencyHz: 50,
})

describe('starts a motor may make', () => {
  it.each(ROWS)('%f hp: %f an hour, %f s rest', (hp, starts, rest) => {
    const limits = startLimits(plate(hp))
    expect(limits.startsPerHour).toBeCloseTo(starts, 6)
    expect(limits.restS).toBeCloseTo(rest, 6)
  })
  it('between two sizes lies between their rows', () => {
    const { startsPerHour, restS } = startLimits(plate(62.5))
    expect(startsPerHour).toBeCloseTo((6.8 + 5.8) / 2, 6)
    expect(restS).toBeCloseTo((72 + 90) / 2, 6)
  })
  it('beyond the table holds its ends: never more starts for a larger motor', () => {
    expect(startLimits(plate(1)).startsPerHour).toBeCloseTo(16.3, 6)
    expect(startLimits(plate(400)).startsPerHour).toBeCloseTo(4, 6)
    expect(startLimits(plate(400)).restS).toBeCloseTo(300, 6)
  })
  it('two poles may start less often than four (from memory of the same table)', () => {
    expect(startLimits(plate(30, 2)).startsPerHour).toBeLessThan(0.7 * 8.2)
  })
})
