import type { MotorNameplate } from '@/lib/contract/machine'

/**
 * The textbook's equivalent circuit (460 V, 25 hp, 60 Hz, 4-pole), a phase in star: stator R1 + jX1, then the
 * magnetising jXM beside the rotor R2/s + jX2; rotational loss off the shaft. Solved here, apart from the model.
 */
const R1 = 0.641
const R2 = 0.332
const X1 = 1.106
const X2 = 0.464
const XM = 26.3
const ROTATIONAL_W = 1100
const SYNCHRONOUS_RADS = (1800 * 2 * Math.PI) / 60

export interface CircuitPoint {
  readonly slip: number
  readonly currentA: number
  readonly inputW: number
  readonly shaftW: number
  readonly torqueNm: number
  readonly powerFactor: number
}

/** The circuit at a slip and a voltage between phases. */
export function circuitAt(slip: number, voltageV = 460): CircuitPoint {
  const rotor = R2 / slip
  // Z = jXM·(R2/s + jX2) / (R2/s + j(X2 + XM))
  const below = rotor * rotor + (X2 + XM) ** 2
  const re = (-XM * X2 * rotor + XM * rotor * (X2 + XM)) / below
  const im = (XM * rotor * rotor + XM * X2 * (X2 + XM)) / below
  const whole = Math.hypot(R1 + re, X1 + im)
  const currentA = voltageV / Math.sqrt(3) / whole
  const airGapW = 3 * currentA * currentA * re
  const inputW = 3 * currentA * currentA * (R1 + re)
  const shaftW = airGapW * (1 - slip) - ROTATIONAL_W
  return {
    slip,
    currentA,
    inputW,
    shaftW,
    torqueNm: shaftW / (SYNCHRONOUS_RADS * (1 - slip)),
    powerFactor: inputW / (Math.sqrt(3) * voltageV * currentA),
  }
}

/** The running point at a shaft power, by halving between no slip and breakdown. */
export function circuitAtShaft(shaftW: number, voltageV = 460): CircuitPoint {
  let low = 1e-6
  let high = 0.1
  for (let n = 0; n < 60; n++) {
    const middle = (low + high) / 2
    if (circuitAt(middle, voltageV).shaftW < shaftW) low = middle
    else high = middle
  }
  return circuitAt(low, voltageV)
}

/** The circuit's point s = 2.2 % as a nameplate, with the published no-load current. */
export const TEXTBOOK: MotorNameplate = {
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
export const TEXTBOOK_INPUT_W = 12_525
