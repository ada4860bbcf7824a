import { describe, expect, it } from 'vitest'
import { type Circuit, circuitAt, slipForPower, slipForTorque } from '@/app/_plant/circuit'

/**
 * Textbook motor, 460 V, 25 hp, 60 Hz, 4-pole: R1 .641, R2 .332, X1 1.106, X2 .464, XM 26.3 Ω,
 * rotational loss 1100 W. Published at s = 2.2 %: 18.88 A, PF .833, 12.53 kW in, 62.8 N·m in the air
 * gap (read in a secondary page); the exact values of the table were recomputed outside this project.
 */
const TEXTBOOK: Circuit = {
  statorOhm: 0.641,
  rotorOhm: 0.332,
  statorLeakageOhm: 1.106,
  rotorLeakageOhm: 0.464,
  magnetisingOhm: 26.3,
  rotationalLossW: 1100,
  poles: 4,
  frequencyHz: 60,
}

const PUBLISHED = [
  [0.005, 10.351, 0.3742, 3086],
  [0.01, 12.214, 0.6102, 5938],
  [0.022, 18.892, 0.8321, 12_525],
  [0.03, 23.863, 0.8776, 16_686],
] as const

describe('equivalent circuit of the invented motors', () => {
  it.each(PUBLISHED)(
    'gives the published current, power factor and input at slip %f',
    (slip, amps, pf, watts) => {
      const point = circuitAt(TEXTBOOK, 460, slip)
      expect(point.currentA).toBeCloseTo(amps, 2)
      expect(point.powerFactor).toBeCloseTo(pf, 4)
      expect(Math.abs(point.inputW - watts)).toBeLessThan(1)
    },
  )

  it('gives the published shaft output, shaft torque and air-gap torque at s = 2.2 %', () => {
    const point = circuitAt(TEXTBOOK, 460, 0.022)
    expect(Math.abs(point.shaftW - 10_478)).toBeLessThan(1)
    expect(point.shaftTorqueNm).toBeCloseTo(56.8, 1)
    expect(point.airGapW / (2 * Math.PI * 30)).toBeCloseTo(62.8, 1)
  })

  it('finds the published no-load point: s = .00189, 9.767 A, PF .1652, 1286 W', () => {
    const slip = slipForTorque(TEXTBOOK, 460, 0, 0.001)
    const point = circuitAt(TEXTBOOK, 460, slip)
    expect(slip).toBeCloseTo(0.00189, 5)
    expect(point.currentA).toBeCloseTo(9.767, 2)
    expect(point.powerFactor).toBeCloseTo(0.1652, 3)
    expect(Math.abs(point.inputW - 1286)).toBeLessThan(1.5)
  })

  it('accounts for its input: copper, rotor and rotational loss and the shaft', () => {
    for (const slip of [0.002, 0.01, 0.03]) {
      const point = circuitAt(TEXTBOOK, 460, slip)
      const stator = 3 * point.currentA ** 2 * TEXTBOOK.statorOhm
      const rotor = slip * point.airGapW
      const parts = stator + rotor + TEXTBOOK.rotationalLossW + point.shaftW
      expect(parts / point.inputW).toBeCloseTo(1, 9)
    }
  })

  it('deep bars raise the starting power and hardly touch the running point', () => {
    const deep = { ...TEXTBOOK, deepBar: 2 }
    expect(circuitAt(deep, 460, 1).inputW).toBeGreaterThan(1.05 * circuitAt(TEXTBOOK, 460, 1).inputW)
    expect(circuitAt(deep, 460, 0.022).currentA / circuitAt(TEXTBOOK, 460, 0.022).currentA).toBeGreaterThan(
      0.96,
    )
  })

  it('finds the slip of a torque and of a power, and refuses what pulls it out', () => {
    const slip = slipForTorque(TEXTBOOK, 460, 56.84)
    expect(slip).toBeCloseTo(0.022, 4)
    expect(slipForPower(TEXTBOOK, 460, 10_478.35)).toBeCloseTo(0.022, 6)
    expect(() => slipForTorque(TEXTBOOK, 460, 1000)).toThrow('pulls out')
  })
})
