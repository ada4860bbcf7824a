import { RADS_PER_RPM } from '@/lib/units'

/** Per-phase equivalent circuit of a three-phase induction motor (star equivalent), with a constant rotational loss. */
export interface Circuit {
  readonly statorOhm: number
  readonly rotorOhm: number
  /** Skin effect of deep rotor bars: rotor resistance grows by this share from synchronism to standstill. */
  readonly deepBar?: number
  readonly statorLeakageOhm: number
  readonly rotorLeakageOhm: number
  readonly magnetisingOhm: number
  /** Friction, windage and core loss together, taken from the shaft side as the textbook does. */
  readonly rotationalLossW: number
  readonly poles: number
  readonly frequencyHz: number
}

export interface CircuitPoint {
  readonly currentA: number
  readonly powerFactor: number
  readonly inputW: number
  /** Power across the air gap. */
  readonly airGapW: number
  readonly shaftW: number
  readonly shaftTorqueNm: number
  readonly speedRadS: number
}

/** Synchronous speed in rad/s. */
export function synchronousRadS(circuit: Circuit): number {
  return (4 * Math.PI * circuit.frequencyHz) / circuit.poles
}

/** Synchronous speed in rpm. */
export function synchronousRpm(circuit: Circuit): number {
  return synchronousRadS(circuit) / RADS_PER_RPM
}

/**
 * The exact circuit (no Thévenin shortcut) solved at one slip and line voltage.
 * Method: rotor branch R2/s + jX2 in parallel with jXM, in series with R1 + jX1.
 */
export function circuitAt(circuit: Circuit, lineVoltageV: number, slip: number): CircuitPoint {
  const { statorOhm: r1, statorLeakageOhm: x1, rotorLeakageOhm: x2, magnetisingOhm: xm } = circuit
  const s = Math.max(slip, 1e-9)
  const rotorR = (circuit.rotorOhm * (1 + (circuit.deepBar ?? 0) * s)) / s
  const across = x2 + xm
  const square = rotorR * rotorR + across * across
  // Z = jXM (R + jX2) / (R + j(X2 + XM))
  const gapR = (xm * xm * rotorR) / square
  const gapX = (xm * (rotorR * rotorR + x2 * across)) / square
  const totalR = r1 + gapR
  const totalX = x1 + gapX
  const impedance = Math.hypot(totalR, totalX)
  const currentA = lineVoltageV / Math.sqrt(3) / impedance
  const powerFactor = totalR / impedance
  const inputW = 3 * currentA * currentA * totalR
  const airGapW = 3 * currentA * currentA * gapR
  const synchronous = synchronousRadS(circuit)
  const speedRadS = synchronous * (1 - s)
  // Below half speed (only in a start) friction is a constant torque, so that the loss fades with speed.
  const dragNm = circuit.rotationalLossW / Math.max(speedRadS, synchronous / 2)
  const shaftTorqueNm = airGapW / synchronous - dragNm
  const shaftW = shaftTorqueNm * speedRadS
  return { currentA, powerFactor, inputW, airGapW, shaftW, shaftTorqueNm, speedRadS }
}

/**
 * Slip at which the shaft gives the wanted torque, on the stable side of the curve.
 * Secant steps from `guess`; the rising branch is nearly straight, so a few suffice.
 * @throws Error where the motor would pull out
 */
export function slipForTorque(
  circuit: Circuit,
  lineVoltageV: number,
  torqueNm: number,
  guess = 0.01,
): number {
  let a = guess
  let b = guess * 1.01 + 1e-5
  let fa = circuitAt(circuit, lineVoltageV, a).shaftTorqueNm - torqueNm
  for (let step = 0; step < 40; step += 1) {
    const fb = circuitAt(circuit, lineVoltageV, b).shaftTorqueNm - torqueNm
    if (Math.abs(fb) < 1e-7 * (1 + Math.abs(torqueNm))) return b
    const next = b - (fb * (b - a)) / (fb - fa)
    a = b
    fa = fb
    b = Math.min(Math.max(next, 1e-8), 0.2)
    if (a === b) break
  }
  throw new Error(`motor pulls out at ${torqueNm} N·m`)
}

/** Slip at which the shaft gives the wanted power. */
export function slipForPower(circuit: Circuit, lineVoltageV: number, shaftW: number): number {
  let slip = 0.01
  for (let step = 0; step < 60; step += 1) {
    const torqueNm = shaftW / (synchronousRadS(circuit) * (1 - slip))
    const next = slipForTorque(circuit, lineVoltageV, torqueNm, slip)
    if (Math.abs(next - slip) < 1e-12) return next
    slip = next
  }
  return slip
}
