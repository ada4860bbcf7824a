import type { Machine } from '@/lib/contract/machine'
import { PA_PER_BAR } from '@/lib/units'
import { type DriveModel, driveModel } from './drive'
import { type ElectricReading, shaftFromReadingW } from './electric-side'
import { type MotorDeviation, type MotorModel, motorModel } from './motor'
import { type PumpDeviation, type PumpModel, pumpModel } from './pump'
import { type GroupMember, pumpGroup } from './pump-group'
import { nameplateCurve, type ReliefCurve } from './relief'
import { setsAsOne } from './sets-as-one'

/** Motor, drive, pump and relief of one machine, as the nameplates and what is known beyond them say. */
export interface MachineModel {
  readonly machine: Machine
  readonly motor: MotorModel
  /** Frequency converter between meter and motor, where the machine has one. */
  readonly drive: DriveModel | null
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

interface Deviations {
  readonly motor?: MotorDeviation
  readonly pump?: PumpDeviation
}

/** The first motor with all pumps on its shaft, and, where more sets feed the line, all of them as one. */
function coupled(
  machine: Machine,
  unloadedPa: number,
  deviation: Deviations,
): Pick<MachineModel, 'motor' | 'pump'> {
  const motor = motorModel(machine.motor, deviation.motor)
  const first = pumpModel(machine.pump, deviation.pump)
  const members = (machine.furtherPumps ?? []).map(
    ({ outlet, unloadsAboveBar, ...plate }): GroupMember => ({
      pump: pumpModel(plate, deviation.pump),
      ownOutletPa: outlet === 'common' ? null : outlet.pressureBar * PA_PER_BAR,
      unloadsAbovePa: unloadsAboveBar === undefined ? null : unloadsAboveBar * PA_PER_BAR,
    }),
  )
  const pump = pumpGroup(first, members, unloadedPa)
  const { furtherSets = [] } = machine
  if (furtherSets.length === 0) return { motor, pump }
  const allFeeding = members.map((member) => ({ ...member, unloadsAbovePa: null }))
  return setsAsOne([
    { motor, pump, loadedPump: pumpGroup(first, allFeeding, unloadedPa), count: 1 },
    ...furtherSets.map((set) => {
      const ofSet = set.pump ? pumpModel(set.pump, deviation.pump) : first
      return {
        motor: set.motor ? motorModel(set.motor, deviation.motor) : motor,
        pump: ofSet,
        loadedPump: ofSet,
        count: set.count,
      }
    }),
  ])
}

/** The model of a machine; deviations are those of all its motors and of all its pumps. */
export function machineModel(machine: Machine, deviation: Deviations = {}): MachineModel {
  const unloadingPa = (machine.unloading.pressureBar ?? DEFAULT_UNLOADING_BAR) * PA_PER_BAR
  return {
    machine,
    ...coupled(machine, unloadingPa, deviation),
    drive: machine.motor.drive ? driveModel(machine.motor) : null,
    relief: nameplateCurve(machine.relief),
    unloadingPa,
    isFixed: machine.pump.kind === 'fixed',
  }
}

const inStates = new WeakMap<MachineModel, (MachineModel | undefined)[]>()

/**
 * The model with its unloading pumps in the state that was told (PumpLatch), until the pressure is clearly beyond what
 * ends it; the model itself where it has none, or nothing was told (NaN).
 */
export function inPumpState(model: MachineModel, state: number): MachineModel {
  const { latch } = model.pump
  if (latch === null || Number.isNaN(state)) return model
  const known = inStates.get(model) ?? []
  inStates.set(model, known)
  // Means of equal states may miss them by a rounding.
  const place = Math.round(state)
  known[place] ??= { ...model, pump: latch.from[place] }
  return known[place]
}

/** The model as if all pumps fed the line at any pressure: what actuators may have. */
export function allFeeding(model: MachineModel): MachineModel {
  const pump = model.pump.latch?.fixed.at(-1)
  return pump ? { ...model, pump } : model
}

/** Speed at a torque: the logged one where known, else what the load leaves the motor on the mains, rad/s. */
const turning = (model: Pick<Coupled, 'motor'>, torqueNm: number, speedRadS: number) =>
  Number.isNaN(speedRadS) ? model.motor.speedRadS(torqueNm) : speedRadS

/**
 * Flow of the pump at full stroke, m³/s, at the speed given (rad/s) or, without one (NaN), at the speed its load
 * leaves the motor.
 */
export function fullFlowM3S(model: Coupled, pressurePa: number, speedRadS = Number.NaN): number {
  return model.pump.flowM3S(pressurePa, turning(model, model.pump.torqueNm(pressurePa), speedRadS))
}

/**
 * Shaft power the pump takes at a pressure, W. At part stroke (`flowM3S` given and below full flow)
 * leakage and loss torque stay at their full-stroke values (domain rule). Speed as for `fullFlowM3S`.
 */
export function pumpShaftW(
  model: Coupled,
  pressurePa: number,
  flowM3S: number | null = null,
  speedRadS = Number.NaN,
): number {
  const { pump } = model
  if (flowM3S === null) {
    const torque = pump.torqueNm(pressurePa)
    return torque * turning(model, torque, speedRadS)
  }
  const lossTorque = pump.lossTorqueNm(pressurePa)
  const speed = turning(model, lossTorque, speedRadS)
  const stroked = Math.max(0, flowM3S) + pump.leakageM3S(pressurePa)
  return Math.min(
    pumpShaftW(model, pressurePa, null, speedRadS),
    Math.max(0, pressurePa) * stroked + lossTorque * speed,
  )
}

/**
 * Flow that a pump at part stroke delivers, from the shaft power its motor gives: what loss torque and
 * leakage leave, between nil and full flow, m³/s. NaN without pressure or without an electric reading.
 */
export function partStrokeFlowM3S(
  model: MachineModel,
  read: ElectricReading & { readonly pumpPressurePa: number },
): number {
  const { pump } = model
  const { pumpPressurePa } = read
  if (!(pumpPressurePa > 0)) return Number.NaN
  const speedRadS = read.speedRadS ?? Number.NaN
  const lossTorque = pump.lossTorqueNm(pumpPressurePa)
  const hydraulicW = shaftFromReadingW(model, read) - lossTorque * turning(model, lossTorque, speedRadS)
  const flow = hydraulicW / pumpPressurePa - pump.leakageM3S(pumpPressurePa)
  return Math.min(Math.max(flow, 0), fullFlowM3S(model, pumpPressurePa, speedRadS))
}
