import type { Machine } from '@/lib/contract/machine'
import { PA_PER_BAR } from '@/lib/units'
import { type MotorDeviation, type MotorModel, motorModel } from './motor'
import { type PumpDeviation, type PumpModel, pumpModel } from './pump'
import { nameplateCurve, type ReliefCurve } from './relief'

/** Motor, pump and relief of one machine, as the nameplates and what is known beyond them say. */
export interface MachineModel {
  readonly machine: Machine
  readonly motor: MotorModel
  readonly pump: PumpModel
  readonly relief: ReliefCurve
  readonly unloadingPa: number
  /** A fixed pump delivers all its flow at any time; others deliver what is asked. */
  readonly isFixed: boolean
}

/** A pump on a motor's shaft: all that the pump's flow and shaft power ask of a model. */
export interface Coupled {
  readonly motor: Pick<MotorModel, 'speedRadS'>
  readonly pump: PumpModel
}

/** Pressure of the unloaded pump where the machine file does not say: common practice, no source. */
export const DEFAULT_UNLOADING_BAR = 5

export function machineModel(
  machine: Machine,
  deviation: { motor?: MotorDeviation; pump?: PumpDeviation } = {},
): MachineModel {
  return {
    machine,
    motor: motorModel(machine.motor, deviation.motor),
    pump: pumpModel(machine.pump, deviation.pump),
    relief: nameplateCurve(machine.relief),
    unloadingPa: (machine.unloading.pressureBar ?? DEFAULT_UNLOADING_BAR) * PA_PER_BAR,
    isFixed: machine.pump.kind === 'fixed',
  }
}

/** Flow of the pump at full stroke and the speed its load leaves the motor, m³/s. */
export function fullFlowM3S(model: Coupled, pressurePa: number): number {
  return model.pump.flowM3S(pressurePa, model.motor.speedRadS(model.pump.torqueNm(pressurePa)))
}

/**
 * Shaft power the pump takes at a pressure, W. At part stroke (`flowM3S` given and below full flow)
 * leakage and loss torque stay at their full-stroke values (domain rule).
 */
export function pumpShaftW(model: Coupled, pressurePa: number, flowM3S: number | null = null): number {
  const { motor, pump } = model
  if (flowM3S === null) {
    const torque = pump.torqueNm(pressurePa)
    return torque * motor.speedRadS(torque)
  }
  const lossTorque = pump.lossTorqueNm(pressurePa)
  const speed = motor.speedRadS(lossTorque)
  const stroked = Math.max(0, flowM3S) + pump.leakageM3S(pressurePa)
  return Math.min(pumpShaftW(model, pressurePa), Math.max(0, pressurePa) * stroked + lossTorque * speed)
}

/**
 * Flow that a pump at part stroke delivers, from the shaft power its motor gives: what loss torque and
 * leakage leave, between nil and full flow, m³/s. NaN without pressure or without an electric reading.
 */
export function partStrokeFlowM3S(
  model: Pick<MachineModel, 'motor' | 'pump'>,
  read: { readonly pumpPressurePa: number; readonly powerW: number; readonly currentA: number },
): number {
  const { motor, pump } = model
  const { pumpPressurePa, powerW, currentA } = read
  const shaftW = Number.isNaN(powerW)
    ? Number.isNaN(currentA)
      ? Number.NaN
      : motor.shaftFromCurrentW(currentA)
    : motor.shaftFromInputW(powerW)
  if (!(pumpPressurePa > 0)) return Number.NaN
  const lossTorque = pump.lossTorqueNm(pumpPressurePa)
  const hydraulicW = shaftW - lossTorque * motor.speedRadS(lossTorque)
  const flow = hydraulicW / pumpPressurePa - pump.leakageM3S(pumpPressurePa)
  return Math.min(Math.max(flow, 0), fullFlowM3S(model, pumpPressurePa))
}
