import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { MotorNameplate } from '@/lib/contract/machine'
import { type MotorModel, motorModel } from '@/lib/machine/motor'

/**
 * Textbook equivalent circuit (460 V, 25 hp, 60 Hz, 4-pole; R1 .641, R2 .332, X1 1.106, X2 .464,
 * XM 26.3 Ω, rotational loss 1100 W), given to the model as the nameplate of its point s = 2.2 %.
 * Published there: 18.88 A, PF .833, 12.53 kW in (secondary page); other slips recomputed outside this project.
 */
const TEXTBOOK: MotorNameplate = {
  ratedPowerKW: 10.478,
  ratedVoltageV: 460,
  ratedCurrentA: 18.892,
  ratedPowerFactor: 0.8321,
  ratedEfficiency: 0.8366,
  ratedSpeedRpm: 1800 * (1 - 0.022),
  poles: 4,
  frequencyHz: 60,
  noLoadCurrentA: 9.767,
}
/** Slip, line current in A, input in W. */
const POINTS = [
  [0.00189, 9.767, 1286],
  [0.005, 10.351, 3086],
  [0.01, 12.214, 5938],
  [0.022, 18.892, 12_525],
  [0.03, 23.863, 16_686],
] as const
/** The project's own limit for this model: 4 % of rated input over the circuit's whole range. */
const LIMIT_OF_RATED = 0.04

/** IEC 60034-30-1 nominal efficiencies, 4-pole 50 Hz; power factor from the table of usual ones (secondary page). */
const PLATES = [
  { kW: 7.5, IE2: 0.887, IE3: 0.904, powerFactor: 0.86, hp: '5–20', half: 0.74, threeQuarters: 0.84 },
  { kW: 15, IE2: 0.906, IE3: 0.921, powerFactor: 0.86, hp: '5–20', half: 0.74, threeQuarters: 0.84 },
  { kW: 37, IE2: 0.927, IE3: 0.939, powerFactor: 0.89, hp: '20–100', half: 0.79, threeQuarters: 0.86 },
  { kW: 75, IE2: 0.94, IE3: 0.95, powerFactor: 0.89, hp: '20–100', half: 0.79, threeQuarters: 0.86 },
  { kW: 110, IE2: 0.945, IE3: 0.954, powerFactor: 0.91, hp: '100–300', half: 0.81, threeQuarters: 0.88 },
] as const

function plate(kW: number, efficiency: number, powerFactor: number): MotorNameplate {
  return {
    ratedPowerKW: kW,
    ratedVoltageV: 400,
    ratedCurrentA: (kW * 1000) / (Math.sqrt(3) * 400 * efficiency * powerFactor),
    ratedPowerFactor: powerFactor,
    ratedEfficiency: efficiency,
    ratedSpeedRpm: 1470,
    poles: 4,
    frequencyHz: 50,
  }
}

const inputFromCurrent = (motor: MotorModel, amps: number) => {
  const shaftW = motor.shaftFromCurrentW(amps)
  return shaftW + motor.lossW(shaftW)
}
const powerFactorAt = (motor: MotorModel, load: number) => {
  const shaftW = load * motor.ratedShaftW
  return (shaftW + motor.lossW(shaftW)) / (Math.sqrt(3) * 400 * motor.currentA(shaftW))
}
const efficiencyAt = (motor: MotorModel, load: number) =>
  (load * motor.ratedShaftW) / (load * motor.ratedShaftW + motor.lossW(load * motor.ratedShaftW))

describe('power from current against the textbook circuit', () => {
  const motor = motorModel(TEXTBOOK)

  it.each(POINTS)('slip %f: %f A is %f W within 4 %% of rated input', (_slip, amps, watts) => {
    expect(Math.abs(inputFromCurrent(motor, amps) - watts)).toBeLessThan(LIMIT_OF_RATED * 12_525)
  })

  it('from no load to rated, current rises 1.93-fold and power 9.7-fold', () => {
    expect(18.892 / 9.767).toBeCloseTo(1.93, 2)
    const ratio = inputFromCurrent(motor, 18.892) / inputFromCurrent(motor, 9.767)
    // What 4 % of rated input leaves at the published no-load input.
    expect(ratio).toBeGreaterThan(12_525 / (1286 + LIMIT_OF_RATED * 12_525))
    expect(ratio).toBeLessThan(12_525 / (1286 - LIMIT_OF_RATED * 12_525))
    // "Amps times volts times rated power factor" makes it 1.93-fold: what the model must not do.
    expect(ratio / 1.93).toBeGreaterThan(3)
  })

  it.each(POINTS)(
    'with the circuit’s own no-load loss, slip %f: %f A is %f W within 2 %%',
    (_s, amps, watts) => {
      const own = motorModel(TEXTBOOK, { noLoadLossShare: 1286 / (12_525 - 10_478) - 0.45 })
      expect(Math.abs(inputFromCurrent(own, amps) - watts)).toBeLessThan(0.02 * 12_525)
      expect(inputFromCurrent(own, 18.892) / inputFromCurrent(own, 9.767)).toBeCloseTo(9.7, 1)
    },
  )

  it('tells apart near no load what amps times rated power factor overstates five-fold', () => {
    const naive = Math.sqrt(3) * 460 * 9.767 * 0.8321
    expect(naive / 1286).toBeGreaterThan(5)
    expect(inputFromCurrent(motor, 9.767)).toBeLessThan(0.3 * naive)
  })
})

describe('part-load efficiency over its maximum', () => {
  /**
   * US DOE, Determining Electric Motor Load and Efficiency, digitised (± .01), by rated input. One default
   * share of no-load loss cannot follow every size: the curves ask for .6 of rated loss at 7.5 kW and .3 at
   * 75 kW. So the default is held within .06 (IEC classes are newer and flatter than the figure's motors),
   * and the model's stated band (± .2) must hold the curve.
   */
  const DIGITISED = 0.01
  const CURVES = [
    { kW: 7.5, loads: { 0.3: 0.887, 0.4: 0.95, 0.6: 1, 0.8: 1 } },
    { kW: 15, loads: { 0.3: 0.937, 0.4: 0.98, 0.6: 1, 0.8: 1 } },
    { kW: 37, loads: { 0.3: 0.957, 0.4: 1, 0.6: 1, 0.8: 1 } },
    { kW: 75, loads: { 0.3: 0.987, 0.4: 1, 0.6: 1, 0.8: 1 } },
  ] as const
  const CASES = CURVES.flatMap(({ kW, loads }) =>
    (['IE2', 'IE3'] as const).flatMap((ie) =>
      Object.entries(loads).map(([load, published]) => ({ kW, ie, load: Number(load), published })),
    ),
  )

  it.each(CASES)('$kW kW $ie at $load load: $published', ({ kW, ie, load, published }) => {
    const row = PLATES.find((one) => one.kW === kW)
    if (!row) throw new Error('no such plate')
    const relative = (noLoadLossShare: number) => {
      const motor = motorModel(plate(kW, row[ie], row.powerFactor), { noLoadLossShare })
      const all = Array.from({ length: 100 }, (_, i) => efficiencyAt(motor, (i + 1) / 100))
      return efficiencyAt(motor, load) / Math.max(...all)
    }
    expect(Math.abs(relative(0) - published)).toBeLessThan(0.06)
    expect(relative(0.2)).toBeLessThan(published + DIGITISED)
    expect(relative(-0.2)).toBeGreaterThan(published - DIGITISED)
  })
})

describe('power factor with the default no-load current', () => {
  // Table of usual ones at ½, ¾ and full load, 4-pole (secondary page). Makers spread by about .05, the
  // default no-load current (± 0.1 of rated) moves half load by more; .08 is what both leave.
  it.each(PLATES)('$kW kW, $hp hp: $half, $threeQuarters, $powerFactor', (row) => {
    const motor = motorModel(plate(row.kW, row.IE2, row.powerFactor))
    expect(powerFactorAt(motor, 1)).toBeCloseTo(row.powerFactor, 6)
    expect(Math.abs(powerFactorAt(motor, 0.75) - row.threeQuarters)).toBeLessThan(0.05)
    expect(Math.abs(powerFactorAt(motor, 0.5) - row.half)).toBeLessThan(0.08)
  })

  it.each(PLATES)('$kW kW: .1 to .17 without load (secondary page; the larger, the lower)', (row) => {
    const factor = powerFactorAt(motorModel(plate(row.kW, row.IE2, row.powerFactor)), 0)
    expect(factor).toBeGreaterThan(0.06)
    expect(factor).toBeLessThan(0.17)
  })
})

describe('nameplate and inversion', () => {
  it('meets the nameplate at rated load: 469.7 V, 37 A, PF .763 is 22.967 kW (US DOE)', () => {
    const motor = motorModel({
      ...plate(20, 20 / 22.967, 0.763),
      ratedVoltageV: 469.7,
      ratedCurrentA: 37,
    })
    expect(inputFromCurrent(motor, 37) / 22_967).toBeCloseTo(1, 3)
    expect(motor.ratedInputW).toBeCloseTo(22_967, 6)
  })

  it('knows its speed: synchronous without load, rated at rated torque', () => {
    const motor = motorModel(TEXTBOOK)
    const rpm = (radS: number) => (radS * 60) / (2 * Math.PI)
    expect(rpm(motor.speedRadS(0))).toBeCloseTo(1800, 9)
    const ratedTorque = 10_478 / ((TEXTBOOK.ratedSpeedRpm * 2 * Math.PI) / 60)
    expect(ratedTorque).toBeCloseTo(56.8, 1)
    expect(rpm(motor.speedRadS(ratedTorque))).toBeCloseTo(1800 * 0.978, 6)
  })

  const anyPlate = fc
    .record({
      kW: fc.double({ min: 1.1, max: 200, noNaN: true }),
      efficiency: fc.double({ min: 0.78, max: 0.97, noNaN: true }),
      powerFactor: fc.double({ min: 0.76, max: 0.92, noNaN: true }),
      noLoad: fc.option(fc.double({ min: 0.25, max: 0.55, noNaN: true })),
    })
    .map(({ kW, efficiency, powerFactor, noLoad }) => {
      const base = plate(kW, efficiency, powerFactor)
      return noLoad === null ? base : { ...base, noLoadCurrentA: noLoad * base.ratedCurrentA }
    })

  it('current rises strictly with power and inverts, up to 1.6 times rated power', () => {
    fc.assert(
      fc.property(anyPlate, fc.double({ min: 0, max: 1.6, noNaN: true }), (of, load) => {
        const motor = motorModel(of)
        const shaftW = load * motor.ratedShaftW
        expect(motor.currentA(shaftW + 0.001 * motor.ratedShaftW)).toBeGreaterThan(motor.currentA(shaftW))
        // Table steps are a quarter per cent of rated; the curve is flat at no load.
        const back = motor.shaftFromCurrentW(motor.currentA(shaftW))
        expect(Math.abs(back - shaftW)).toBeLessThan(0.003 * motor.ratedShaftW)
        const input = shaftW + motor.lossW(shaftW)
        expect(Math.abs(motor.shaftFromInputW(input) - shaftW)).toBeLessThan(1e-6 * motor.ratedShaftW)
      }),
      { numRuns: 50 },
    )
  })

  it('more current is never less power, and below no load there is none', () => {
    fc.assert(
      fc.property(
        anyPlate,
        fc.double({ min: 0, max: 1.6, noNaN: true }),
        fc.double({ min: 0, max: 1.6, noNaN: true }),
        (of, a, b) => {
          const motor = motorModel(of)
          const low = Math.min(a, b) * of.ratedCurrentA
          const high = Math.max(a, b) * of.ratedCurrentA
          expect(motor.shaftFromCurrentW(high)).toBeGreaterThanOrEqual(motor.shaftFromCurrentW(low))
          expect(motor.shaftFromCurrentW(0.99 * motor.noLoadCurrentA)).toBe(0)
          expect(motor.shaftFromInputW(0.99 * motor.noLoadInputW)).toBe(0)
        },
      ),
      { numRuns: 50 },
    )
  })

  it('the rise of power with current is the slope of the inversion', () => {
    const motor = motorModel(TEXTBOOK)
    for (const load of [0.2, 0.5, 1]) {
      const amps = motor.currentA(load * motor.ratedShaftW)
      const slope = (motor.shaftFromCurrentW(amps + 0.2) - motor.shaftFromCurrentW(amps - 0.2)) / 0.4
      expect(motor.shaftPerAmpere(load * motor.ratedShaftW) / slope).toBeCloseTo(1, 1)
    }
  })
})
