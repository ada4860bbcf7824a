import type { MotorDeclaration } from '@/lib/contract/machine'
import { RADS_PER_RPM, W_PER_KW } from '@/lib/units'
import { shaftFromCurrent } from './motor-inversion'
import { noLoadCurrent, noLoadLossShare } from './motor-part-load'
import { ratedPoint } from './motor-plate'

/** Deviations from the nameplate model, each zero or absent where nothing better is known. */
export interface MotorDeviation {
  /** Relative deviation of the rated loss. */
  readonly ratedLoss?: number
  /** Share of the rated loss that is there without load, less what plate or size say. */
  readonly noLoadLossShare?: number
  /** Relative deviation of the no-load current. */
  readonly noLoadCurrent?: number
  /** Shaft power beside the model's at half load, as a share of rated power; nil at no load and at rated. */
  readonly form?: number
  /** Relative deviation of the supply voltage from the logged one, or from the rated where none is logged. */
  readonly voltage?: number
}

/**
 * Voltages (V, between phases) are those of the moment; absent or NaN, the rated one holds, with the deviation.
 */
export interface MotorModel {
  readonly ratedShaftW: number
  readonly ratedInputW: number
  /** Input of the uncoupled motor at speed and rated voltage, W. */
  readonly noLoadInputW: number
  readonly noLoadCurrentA: number
  readonly ratedCurrentA: number
  readonly ratedVoltageV: number
  readonly synchronousRadS: number
  /** Motor loss at a shaft power, W. */
  lossW(shaftW: number, voltageV?: number): number
  /** Shaft power at an electric input, W; nil at and below the no-load input. */
  shaftFromInputW(inputW: number, voltageV?: number): number
  /** Line current at a shaft power, A. */
  currentA(shaftW: number, voltageV?: number): number
  /** Shaft power at a line current, W; currents below the no-load current give nil. */
  shaftFromCurrentW(currentA: number, voltageV?: number): number
  /** How fast shaft power rises with current at a shaft power, W/A. */
  shaftPerAmpere(shaftW: number): number
  /** Angular speed at a shaft torque (slip in proportion to torque), rad/s. */
  speedRadS(torqueNm: number): number
}

/** The models reach this share of rated power: intermittent overload is normal. */
const TABLE_REACH = 1.6
const LEAST_LOSS_SHARE = 0.05

/**
 * Induction motor from its nameplate: loss and reactive power rise with the square of shaft power
 * between their no-load and rated values, so current follows from both and is inverted by table.
 *
 * At another voltage every power of the linear circuit at the same slip goes with its square and every current
 * with the voltage itself: P(I, U) = k²·P(I/k) with k = U/U_r. What this leaves out: friction and windage stay
 * (k² of them is taken), and iron that saturates draws more magnetising current above rated voltage.
 *
 * Held against the textbook equivalent circuit in tests/lib/machine/motor.test.ts.
 */
export function motorModel(declared: MotorDeclaration, deviation: MotorDeviation = {}): MotorModel {
  const { plate } = ratedPoint(declared)
  const ratedShaftW = plate.ratedPowerKW * W_PER_KW
  const ratedLossW =
    ratedShaftW * (1 / plate.ratedEfficiency - 1) * Math.max(LEAST_LOSS_SHARE, 1 + (deviation.ratedLoss ?? 0))
  const ratedInputW = ratedShaftW + ratedLossW
  const lossShare = noLoadLossShare(plate).value
  const noLoadInputW = ratedLossW * Math.max(LEAST_LOSS_SHARE, lossShare + (deviation.noLoadLossShare ?? 0))
  const wantedNoLoadA = noLoadCurrent(plate, lossShare).value * (1 + (deviation.noLoadCurrent ?? 0))

  const voltAmpere = Math.sqrt(3) * plate.ratedVoltageV
  const lossPerSquare = (ratedLossW - noLoadInputW) / ratedShaftW ** 2
  const ratedReactive = ratedInputW * Math.sqrt(1 / plate.ratedPowerFactor ** 2 - 1)
  // Current rises with power from the start as long as R_0·(R_0 − R_r) ≤ P_r²/2; no motor comes near it.
  const highestReactive = (ratedReactive + Math.sqrt(ratedReactive ** 2 + 2 * ratedShaftW ** 2)) / 2
  const wantedReactive = Math.sqrt(Math.max(0, (voltAmpere * wantedNoLoadA) ** 2 - noLoadInputW ** 2))
  const noLoadReactive = Math.min(wantedReactive, highestReactive)
  const reactivePerSquare = (ratedReactive - noLoadReactive) / ratedShaftW ** 2

  const synchronousRadS = (2 * plate.frequencyHz * 60 * RADS_PER_RPM) / plate.poles
  const ratedSpeedRadS = plate.ratedSpeedRpm * RADS_PER_RPM
  const slipPerTorque = (synchronousRadS - ratedSpeedRadS) / (ratedShaftW / ratedSpeedRadS)

  const form = deviation.form ?? 0
  /** Shaft power beside the plain model's: y + 4·form·y·(1 − y) in units of rated power, below rated. */
  const bent = (plainW: number) => {
    const y = plainW / ratedShaftW
    return y > 0 && y < 1 ? plainW * (1 + 4 * form * (1 - y)) : plainW
  }
  const plain = (shaftW: number) => {
    const x = shaftW / ratedShaftW
    if (!(x > 0 && x < 1) || form === 0) return Math.max(0, shaftW)
    const b = 1 + 4 * form
    return (2 * shaftW) / (b + Math.sqrt(b * b - 16 * form * x))
  }

  const usualRatio = 1 + (deviation.voltage ?? 0)
  const ratio = (voltageV: number | undefined) =>
    voltageV !== undefined && voltageV > 0 ? (usualRatio * voltageV) / plate.ratedVoltageV : usualRatio

  const loss = (shaftW: number) => noLoadInputW + lossPerSquare * shaftW * shaftW
  const activeW = (shaftW: number) => shaftW + loss(shaftW)
  const reactive = (shaftW: number) => noLoadReactive + reactivePerSquare * shaftW * shaftW
  const curve = {
    squareA2: (shaftW: number) => (activeW(shaftW) ** 2 + reactive(shaftW) ** 2) / voltAmpere ** 2,
    squareRise: (shaftW: number) =>
      (2 *
        (activeW(shaftW) * (1 + 2 * lossPerSquare * shaftW) +
          reactive(shaftW) * 2 * reactivePerSquare * shaftW)) /
      voltAmpere ** 2,
  }
  const plainFromCurrent = shaftFromCurrent(curve, TABLE_REACH * ratedShaftW)
  const plainFromInput = (inputW: number) => {
    const overW = inputW - noLoadInputW
    if (!(overW > 0)) return 0
    return (2 * overW) / (1 + Math.sqrt(Math.max(0, 1 + 4 * lossPerSquare * overW)))
  }

  return {
    ratedShaftW,
    ratedInputW,
    noLoadInputW,
    noLoadCurrentA: Math.hypot(noLoadReactive, noLoadInputW) / voltAmpere,
    ratedCurrentA: plate.ratedCurrentA,
    ratedVoltageV: plate.ratedVoltageV,
    synchronousRadS,
    lossW: (shaftW, voltageV) => {
      const k2 = ratio(voltageV) ** 2
      return k2 * loss(shaftW / k2)
    },
    shaftFromInputW: (inputW, voltageV) => {
      const k2 = ratio(voltageV) ** 2
      return k2 * plainFromInput(inputW / k2)
    },
    currentA: (shaftW, voltageV) => {
      const k = ratio(voltageV)
      return k * Math.sqrt(curve.squareA2(plain(shaftW / (k * k))))
    },
    shaftFromCurrentW: (currentA, voltageV) => {
      const k = ratio(voltageV)
      return k * k * bent(plainFromCurrent(currentA / k))
    },
    shaftPerAmpere: (shaftW) => {
      const at = Math.min(Math.max(shaftW, 0), TABLE_REACH * ratedShaftW)
      return (2 * Math.sqrt(curve.squareA2(at))) / curve.squareRise(at)
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
    lossW: (shaftW, voltageV) => share * motor.lossW(shaftW, voltageV),
    speedRadS: (torqueNm) => synchronousRadS - share * (synchronousRadS - motor.speedRadS(torqueNm)),
  }
}
