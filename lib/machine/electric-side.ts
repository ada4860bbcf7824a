import type { Machine } from '@/lib/contract/machine'
import type { DriveModel } from './drive'
import type { MotorModel } from './motor'
import { motorAtSpeed } from './motor-speed'

/** What is read of motor and shaft at one moment, SI; NaN (or absent) where it is not logged. */
export interface ElectricReading {
  readonly powerW: number
  readonly currentA: number
  readonly voltageV?: number
  readonly speedRadS?: number
}

/** All that lies between the meter and the shaft. */
export interface ElectricSide {
  readonly machine: Pick<Machine, 'motor'>
  readonly motor: MotorModel
  readonly drive: DriveModel | null
}

const turns = (speedRadS: number | undefined): speedRadS is number => speedRadS !== undefined && speedRadS > 0

/** False for a clamp before a drive: its current is the rectifier's, and says nothing of the motor's torque. */
export const currentTellsTorque = ({ machine }: Pick<ElectricSide, 'machine'>) =>
  machine.motor.drive?.meter !== 'before-drive'

/** Shaft power of a motor on the mains, W: from power where measured, else from current; NaN where neither is. */
export function shaftOnMainsW(
  motor: MotorModel,
  powerW: number,
  currentA: number,
  voltageV?: number,
): number {
  if (!Number.isNaN(powerW)) return motor.shaftFromInputW(powerW, voltageV)
  return Number.isNaN(currentA) ? Number.NaN : motor.shaftFromCurrentW(currentA, voltageV)
}

/**
 * Shaft power from what the meter reads, W: from power where measured, else from current. NaN where neither
 * tells. Power measured before a drive loses the drive's loss first. With a drive the logged speed sets the motor's
 * losses; without a logged speed they are those of the mains.
 */
export function shaftFromReadingW(side: ElectricSide, read: ElectricReading): number {
  const { motor, drive, machine } = side
  const { powerW, currentA, voltageV, speedRadS } = read
  if (!drive) return shaftOnMainsW(motor, powerW, currentA, voltageV)
  const driven = turns(speedRadS) ? motorAtSpeed(motor, speedRadS) : motor
  if (!Number.isNaN(powerW)) {
    return driven.shaftFromInputW(
      machine.motor.drive?.meter === 'before-drive' ? drive.outputW(powerW) : powerW,
    )
  }
  if (Number.isNaN(currentA) || !currentTellsTorque(side)) return Number.NaN
  return driven.shaftFromCurrentW(currentA)
}

/** Input at the mains where power is metered, W: between drive and motor the drive's loss comes on top. */
export function inputFromPowerW({ machine, drive }: ElectricSide, powerW: number): number {
  return drive && machine.motor.drive?.meter === 'after-drive' ? powerW + drive.lossW(powerW) : powerW
}

/** Electric input that a shaft power costs a motor on the mains, W. */
export const inputOnMainsW = (motor: MotorModel, shaftW: number, voltageV?: number) =>
  shaftW + motor.lossW(shaftW, voltageV)

/**
 * Electric input at the mains that a shaft power costs, W: shaft, motor loss and drive loss. Speed (rad/s) matters
 * with a drive, voltage (V) without one; NaN or absent means the nameplate's.
 */
export function inputFromShaftW(
  side: ElectricSide,
  shaftW: number,
  at: { readonly speedRadS?: number; readonly voltageV?: number } = {},
): number {
  const { motor, drive } = side
  if (!drive) return inputOnMainsW(motor, shaftW, at.voltageV)
  const lossW = turns(at.speedRadS) ? motorAtSpeed(motor, at.speedRadS).lossW(shaftW) : motor.lossW(shaftW)
  return shaftW + lossW + drive.lossW(shaftW + lossW)
}
