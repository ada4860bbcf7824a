import type { DriveModel } from '@/lib/machine/drive'
import { inPumpState, type MachineModel } from '@/lib/machine/machine-model'
import type { RunningMotor } from '@/lib/machine/motor'
import type { PumpModel } from '@/lib/machine/pump'
import type { SupplyStep } from './supply'

/** Motor, pump and what an option adds to them: what serves a step. */
export interface PowerUnit {
  readonly motor: RunningMotor
  /** The pump that carries the step's pressure. */
  readonly pump: PumpModel
  /** A second pump on the same shaft whose whole flow goes to tank at a pressure of its own. */
  readonly unloaded: { readonly pump: PumpModel; readonly pressurePa: number } | null
  /** Frequency converter between mains and motor. */
  readonly drive: DriveModel | null
}

export const ownUnit = (model: MachineModel): PowerUnit => ({
  motor: model.motor,
  pump: model.pump,
  unloaded: null,
  drive: model.drive,
})

const inStates = new WeakMap<MachineModel, PowerUnit>()

/**
 * The machine's own unit with its unloading pumps in a state; null where it has none, or nothing was told (NaN): it is
 * the machine's own in any state then. The same one for every step.
 */
export function unitInState(model: MachineModel, state: number): PowerUnit | null {
  const fed = inPumpState(model, state)
  if (fed === model) return null
  const unit = inStates.get(fed) ?? ownUnit(fed)
  inStates.set(fed, unit)
  return unit
}

/** Torque on the shaft at full stroke and a pressure, Nm. */
export function shaftTorqueNm(unit: PowerUnit, pressurePa: number): number {
  const torque = unit.pump.torqueNm(pressurePa)
  return unit.unloaded ? torque + unit.unloaded.pump.torqueNm(unit.unloaded.pressurePa) : torque
}

/** Flow at full stroke and the speed that the load leaves the motor on the mains, m³/s. */
export function unitFlowM3S(unit: PowerUnit, pressurePa: number): number {
  return unit.pump.flowM3S(pressurePa, unit.motor.speedRadS(shaftTorqueNm(unit, pressurePa)))
}

interface Replaced {
  readonly before: PowerUnit
  readonly after: PowerUnit
}

/** The same replacement for every step: each unit is replaced once, whatever the number of steps. */
export function replacing(model: MachineModel, replace: (unit: PowerUnit) => PowerUnit) {
  const own = ownUnit(model)
  const done = new Map<PowerUnit, Replaced>()
  let last: Replaced | null = null
  return ({ unit }: Pick<SupplyStep, 'unit'>): Replaced => {
    const before = unit ?? own
    // Most often the step before had the same one.
    if (last?.before === before) return last
    last = done.get(before) ?? { before, after: replace(before) }
    done.set(before, last)
    return last
  }
}
