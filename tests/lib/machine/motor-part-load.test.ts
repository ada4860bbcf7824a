import { describe, expect, it } from 'vitest'
import type { MotorNameplate } from '@/lib/contract/machine'
import { motorModel } from '@/lib/machine/motor'
import {
  impliedCurrentShare,
  impliedLossShare,
  noLoadCurrent,
  noLoadLossShare,
} from '@/lib/machine/motor-part-load'
import { motorPrior } from '@/lib/machine/motor-prior'
import { circuitAtShaft, TEXTBOOK } from './textbook-circuit'

/** 10 kW, 90 %: rated loss 1111.1 W. With 444.4 W (40 %) without load: 75 %: 444.4 + 0.5625·666.7 = 819.4 W, 50 %: 611.1 W. */
const PLATE: MotorNameplate = {
  ratedPowerKW: 10,
  ratedVoltageV: 400,
  ratedCurrentA: 18.86,
  ratedPowerFactor: 0.85,
  ratedEfficiency: 0.9,
  ratedSpeedRpm: 1460,
  poles: 4,
  frequencyHz: 50,
}
const AT75 = 7500 / (7500 + 819.44)
const AT50 = 5000 / (5000 + 611.11)

describe('no-load loss from part-load efficiencies', () => {
  it('gives back the share they were made of, from either point or both', () => {
    expect(impliedLossShare({ ...PLATE, efficiencyAt75: AT75 })).toBeCloseTo(0.4, 4)
    expect(impliedLossShare({ ...PLATE, efficiencyAt50: AT50 })).toBeCloseTo(0.4, 4)
    expect(impliedLossShare({ ...PLATE, efficiencyAt75: AT75, efficiencyAt50: AT50 })).toBeCloseTo(0.4, 4)
    expect(impliedLossShare(PLATE)).toBeNull()
  })
  it('weighs two points that differ by least squares: the half load tells more', () => {
    // Shares .3 at 75 % and .5 at 50 %: weights (1 − x²)² of .1914 and .5625 give .4492.
    const loss = (x: number, share: number) => 1111.11 * (share + (1 - share) * x * x)
    const share = impliedLossShare({
      ...PLATE,
      efficiencyAt75: 7500 / (7500 + loss(0.75, 0.3)),
      efficiencyAt50: 5000 / (5000 + loss(0.5, 0.5)),
    })
    expect(share).toBeCloseTo((0.19140625 * 0.3 + 0.5625 * 0.5) / (0.19140625 + 0.5625), 4)
  })
  it('makes the model meet them, and its prior narrower', () => {
    const of = { ...PLATE, efficiencyAt75: AT75, efficiencyAt50: AT50 }
    const motor = motorModel(of)
    expect(7500 / (7500 + motor.lossW(7500))).toBeCloseTo(AT75, 5)
    expect(5000 / (5000 + motor.lossW(5000))).toBeCloseTo(AT50, 5)
    expect(motorPrior(of).noLoadLossShare).toBeLessThan(0.7 * motorPrior(PLATE).noLoadLossShare)
  })
  it('leaves impossible ones aside: 97 % at half load of a 90 % motor has no loss without load', () => {
    const of = { ...PLATE, efficiencyAt50: 0.97 }
    expect(impliedLossShare(of)).toBeLessThan(0.1)
    expect(noLoadLossShare(of)).toEqual(noLoadLossShare(PLATE))
  })
  it('of the textbook circuit lies within its limit of the circuit’s own no-load loss', () => {
    const efficiency = (load: number) =>
      Number(((load * 10_478) / circuitAtShaft(load * 10_478).inputW).toFixed(3))
    const { value, sd } = noLoadLossShare({
      ...TEXTBOOK,
      efficiencyAt75: efficiency(0.75),
      efficiencyAt50: efficiency(0.5),
    })
    expect(Math.abs(value - 1286 / (12_525 - 10_478))).toBeLessThan(1.96 * sd)
  })
})

describe('no-load current from part-load power factors', () => {
  it('gives back the reactive power they were made of', () => {
    // Q = 4000 + x²·(Q_r − 4000) var; Q_r = 11,111·tan(acos .85). Loss 40 % without load, as above.
    const ratedVar = (10_000 / 0.9) * Math.tan(Math.acos(0.85))
    const cosine = (load: number) => {
      const activeW = load * 10_000 + 444.44 + 666.67 * load * load
      return Math.cos(Math.atan((4000 + (ratedVar - 4000) * load * load) / activeW))
    }
    const share = impliedCurrentShare(
      { ...PLATE, powerFactorAt75: cosine(0.75), powerFactorAt50: cosine(0.5) },
      0.4,
    )
    expect(share).toBeCloseTo(Math.hypot(4000, 444.44) / (Math.sqrt(3) * 400 * 18.86), 4)
  })
  it('a stated no-load current outranks them; impossible ones leave the default', () => {
    const of = { ...PLATE, powerFactorAt50: 0.72 }
    expect(noLoadCurrent(of).origin).toBe('part-load')
    expect(noLoadCurrent({ ...of, noLoadCurrentA: 7 })).toMatchObject({ value: 7, origin: 'stated' })
    expect(noLoadCurrent({ ...PLATE, powerFactorAt50: 0.99 })).toEqual(noLoadCurrent(PLATE))
    expect(noLoadCurrent(PLATE).origin).toBe('default')
  })
  it('narrow the prior of the no-load current', () => {
    const of = { ...PLATE, powerFactorAt50: 0.72, powerFactorAt75: 0.81 }
    expect(motorPrior(of).noLoadCurrent).toBeLessThan(0.6 * motorPrior(PLATE).noLoadCurrent)
    expect(motorPrior({ ...of, noLoadCurrentA: 7 }).noLoadCurrent).toBeCloseTo(0.012, 9)
  })
  it('of the textbook circuit lies within its limit of the circuit’s 9.767 A', () => {
    const { noLoadCurrentA: _, ...unstated } = TEXTBOOK
    const at = (load: number) => circuitAtShaft(load * 10_478)
    const round = (value: number) => Number(value.toFixed(2))
    const { value, sd } = noLoadCurrent({
      ...unstated,
      efficiencyAt75: 7858.5 / at(0.75).inputW,
      efficiencyAt50: 5239 / at(0.5).inputW,
      powerFactorAt75: round(at(0.75).powerFactor),
      powerFactorAt50: round(at(0.5).powerFactor),
    })
    expect(Math.abs(value - 9.767)).toBeLessThan(1.96 * sd)
  })
})
