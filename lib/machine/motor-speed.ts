import type { MotorModel, RunningMotor } from './motor'

/**
 * A motor on a frequency converter, which holds its flux up to rated frequency: torque needs the slip speed and
 * the current that it needs on the mains, whatever the speed (constant volts per hertz, common practice).
 * Above rated frequency the flux falls and these laws understate loss and current.
 */
type SlippingMotor = Pick<RunningMotor, 'lossW' | 'speedRadS'>

/**
 * Loss of the motor at a torque and a speed that a drive sets, W: what the torque costs on the mains, less the
 * part that is there without load in proportion to speed. Core, friction and windage fade faster than that and
 * the magnetising current's loss not at all; the drive's harmonics add a little (common practice, no source).
 */
export function lossAtSpeedW(motor: SlippingMotor, torqueNm: number, speedRadS: number): number {
  const mainsRadS = motor.speedRadS(torqueNm)
  return motor.lossW(torqueNm * mainsRadS) - motor.lossW(0) * (1 - speedRadS / mainsRadS)
}

/** Torque at a shaft power on the mains, Nm: slip is in proportion to torque. */
function mainsTorqueNm(motor: Pick<MotorModel, 'synchronousRadS' | 'speedRadS'>, shaftW: number): number {
  const synchronous = motor.synchronousRadS
  const slipPerTorque = synchronous - motor.speedRadS(1)
  const root = Math.sqrt(Math.max(0, synchronous * synchronous - 4 * slipPerTorque * shaftW))
  return (2 * shaftW) / (synchronous + root)
}

/** What a load sees of a motor that a drive turns at a given speed. */
export interface MotorAtSpeed {
  readonly radS: number
  /** Motor loss at a shaft power, W. */
  lossW(shaftW: number): number
  /** Shaft power at the motor's electric input, W; nil at and below what it takes without load. */
  shaftFromInputW(inputW: number): number
  /** Shaft power at the motor's own line current (behind the drive), W. */
  shaftFromCurrentW(currentA: number): number
}

/** The loss is a parabola but for the slip, which moves its factor by a few per cent: it settles at once. */
const ROUNDS = 4

/** The motor at a speed above nil that a drive sets. */
export function motorAtSpeed(motor: MotorModel, radS: number): MotorAtSpeed {
  const lossW = (shaftW: number) => lossAtSpeedW(motor, shaftW / radS, radS)
  return {
    radS,
    lossW,
    shaftFromInputW: (inputW) => {
      const overW = inputW - lossW(0)
      if (!(overW > 0)) return 0
      let shaftW = overW
      for (let round = 0; round < ROUNDS; round++) {
        const perSquare = (lossW(shaftW) - lossW(0)) / shaftW ** 2
        shaftW = (2 * overW) / (1 + Math.sqrt(1 + 4 * perSquare * overW))
      }
      return shaftW
    },
    shaftFromCurrentW: (currentA) => radS * mainsTorqueNm(motor, motor.shaftFromCurrentW(currentA)),
  }
}
