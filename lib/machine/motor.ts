import type { MotorNameplate } from '@/lib/contract/machine'
import { RADS_PER_RPM, W_PER_KW } from '@/lib/units'
import { defaultNoLoadShare } from './no-load-current'

/** Deviations from the nameplate model, each zero or absent where nothing better is known. */
export interface MotorDeviation {
  /** Share of the rated loss that is there without load, less the default 0.45. */
  readonly noLoadLossShare?: number
  /** Relative deviation of the no-load current. */
  readonly noLoadCurrent?: number
  /** Shaft power beside the model's at half load, as a share of rated power; nil at no load and at rated. */
  readonly form?: number
  /** Relative deviation of the supply voltage from the rated one, where no voltage is logged. */
  readonly voltage?: number
}

export interface MotorModel {
  readonly ratedShaftW: number
  readonly ratedInputW: number
  /** Input of the uncoupled motor at speed, W. */
  readonly noLoadInputW: number
  readonly noLoadCurrentA: number
  readonly ratedCurrentA: number
  readonly ratedVoltageV: number
  readonly synchronousRadS: number
  /** Motor loss at a shaft power, W. */
  lossW(shaftW: number): number
  /** Shaft power at an electric input, W; nil at and below the no-load input. */
  shaftFromInputW(inputW: number): number
  /** Line current at a shaft power, A. */
  currentA(shaftW: number): number
  /** Shaft power at a line current, W; currents below the no-load current give nil. */
  shaftFromCurrentW(currentA: number): number
  /** How fast shaft power rises with current at a shaft power, W/A. */
  shaftPerAmpere(shaftW: number): number
  /** Angular speed at a shaft torque (slip in proportion to torque), rad/s. */
  speedRadS(torqueNm: number): number
}

/** Share of the rated loss that stays without load; 95 % of motors lie within ± 0.2 (domain rule, common practice). */
export const DEFAULT_NO_LOAD_LOSS_SHARE = 0.45
const TABLE_REACH = 1.6
const TABLE_STEPS = 640

/**
 * Induction motor from its nameplate: loss and reactive power rise with the square of shaft power
 * between their no-load and rated values, so current follows from both and is inverted by table.
 * Held against the textbook equivalent circuit in tests/lib/machine/motor.test.ts.
 */
export function motorModel(plate: MotorNameplate, deviation: MotorDeviation = {}): MotorModel {
  const ratedShaftW = plate.ratedPowerKW * W_PER_KW
  const ratedInputW = ratedShaftW / plate.ratedEfficiency
  const ratedLossW = ratedInputW - ratedShaftW
  const noLoadInputW = ratedLossW * (DEFAULT_NO_LOAD_LOSS_SHARE + (deviation.noLoadLossShare ?? 0))
  const noLoadCurrentA =
    (plate.noLoadCurrentA ?? defaultNoLoadShare(plate) * plate.ratedCurrentA) *
    (1 + (deviation.noLoadCurrent ?? 0))
  const voltAmpere = Math.sqrt(3) * plate.ratedVoltageV
  const supplyVoltAmpere = voltAmpere * (1 + (deviation.voltage ?? 0))
  const lossPerSquare = (ratedLossW - noLoadInputW) / ratedShaftW ** 2
  const ratedReactive = ratedInputW * Math.sqrt(1 / plate.ratedPowerFactor ** 2 - 1)
  const noLoadReactive = Math.sqrt(Math.max(0, (voltAmpere * noLoadCurrentA) ** 2 - noLoadInputW ** 2))
  const reactivePerSquare = (ratedReactive - noLoadReactive) / ratedShaftW ** 2
  const form = deviation.form ?? 0
  const synchronousRadS = (2 * plate.frequencyHz * 60 * RADS_PER_RPM) / plate.poles
  const ratedSpeedRadS = plate.ratedSpeedRpm * RADS_PER_RPM
  const slipPerTorque = (synchronousRadS - ratedSpeedRadS) / (ratedShaftW / ratedSpeedRadS)

  const lossW = (shaftW: number) => noLoadInputW + lossPerSquare * shaftW * shaftW
  const currentA = (shaftW: number) => {
    const active = shaftW + lossW(shaftW)
    const reactive = noLoadReactive + reactivePerSquare * shaftW * shaftW
    return Math.sqrt(active * active + reactive * reactive) / supplyVoltAmpere
  }
  const bend = (shaftW: number) => {
    const load = shaftW / ratedShaftW
    return load > 0 && load < 1 ? form * ratedShaftW * 4 * load * (1 - load) : 0
  }

  const stepW = (TABLE_REACH * ratedShaftW) / TABLE_STEPS
  const currents = new Float64Array(TABLE_STEPS + 1)
  for (let i = 0; i <= TABLE_STEPS; i++) {
    currents[i] = Math.max(currentA(i * stepW), i > 0 ? currents[i - 1] * (1 + 1e-9) : 0)
  }
  const shaftFromCurrentW = (amps: number) => {
    if (!(amps > currents[0])) return 0
    let low = 0
    let high = TABLE_STEPS
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (currents[middle] <= amps) low = middle
      else high = middle
    }
    const shaftW = stepW * (low + (amps - currents[low]) / (currents[high] - currents[low]))
    return shaftW + bend(shaftW)
  }

  return {
    ratedShaftW,
    ratedInputW,
    noLoadInputW,
    noLoadCurrentA,
    ratedCurrentA: plate.ratedCurrentA,
    ratedVoltageV: plate.ratedVoltageV,
    synchronousRadS,
    lossW,
    currentA: (shaftW) => currentA(Math.max(0, shaftW - bend(shaftW))),
    shaftFromCurrentW,
    shaftFromInputW: (inputW) =>
      inputW <= noLoadInputW
        ? 0
        : lossPerSquare > 0
          ? (Math.sqrt(1 + 4 * lossPerSquare * (inputW - noLoadInputW)) - 1) / (2 * lossPerSquare)
          : inputW - noLoadInputW,
    shaftPerAmpere: (shaftW) => {
      const at = Math.min(Math.max(shaftW, 0), (TABLE_REACH - 0.01) * ratedShaftW)
      return stepW / (currentA(at + stepW) - currentA(at) || Number.EPSILON)
    },
    speedRadS: (torqueNm) => synchronousRadS - slipPerTorque * torqueNm,
  }
}

/** What a load sees of a motor. */
export type RunningMotor = Pick<MotorModel, 'lossW' | 'speedRadS' | 'ratedShaftW' | 'ratedInputW'>

/** A motor of the same rating with this share of the losses; its slip, a loss of the rotor, shrinks alike. */
export function withLossShare(motor: RunningMotor, share: number): RunningMotor {
  const synchronousRadS = motor.speedRadS(0)
  return {
    ratedShaftW: motor.ratedShaftW,
    ratedInputW: motor.ratedShaftW + share * (motor.ratedInputW - motor.ratedShaftW),
    lossW: (shaftW) => share * motor.lossW(shaftW),
    speedRadS: (torqueNm) => synchronousRadS - share * (synchronousRadS - motor.speedRadS(torqueNm)),
  }
}
