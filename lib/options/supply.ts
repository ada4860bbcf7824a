import type { PhaseKind } from '@/lib/contract/result'
import { nodeFlows } from '@/lib/ledger/operating-point'
import type { ParameterValues } from '@/lib/ledger/parameters'
import { corrected } from '@/lib/ledger/readings'
import { type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { lossAtSpeedW } from '@/lib/machine/motor-speed'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { StretchMeans } from '@/lib/phases/stretch'
import type { LogOrder } from './order'
import { ownUnit, type PowerUnit, shaftTorqueNm, unitInState } from './unit'

/**
 * What the supply does during one step (or a part of one): the demand (volume moved, load pressure) is the
 * log's own and stays; an option replaces the rest. A stroke that gets more or less flow takes less or more
 * time for the same volume; `startS` stays that of the log. SI units.
 */
export interface SupplyStep {
  /** Step of the recording that this is (a part of). */
  readonly step: number
  readonly kind: PhaseKind
  readonly startS: number
  readonly durationS: number
  /** Demand. The load pressures (mean and peak) are NaN without a sensor. */
  readonly systemM3S: number
  readonly loadPa: number
  readonly peakLoadPa: number
  /** Supply: the pressure now, and as it was logged. */
  readonly pressurePa: number
  readonly loggedPa: number
  readonly reliefM3S: number
  /** At part stroke the pump delivers the system flow alone; for a store, all its flow, whatever is asked for meanwhile. */
  readonly stroke: 'full' | 'part' | 'store'
  /** Speed that a drive sets; null on the mains, where the load sets it. */
  readonly speedRadS: number | null
  /** What serves the step in the place of the machine's own motor and pump by the pressure alone, or null. */
  readonly unit: PowerUnit | null
  readonly motorOn: boolean
  /** Energy beside the steady power, for a restart, J. */
  readonly extraJ: number
  /** What the order of the log says of it. */
  readonly order: LogOrder
}

/** A step that a change is being carried out on, in its place. */
export type WorkingStep = { -readonly [Key in keyof SupplyStep]: SupplyStep[Key] }

/** Puts what one step holds into another: far quicker than making a new one. */
export function copyInto(to: WorkingStep, from: SupplyStep): void {
  to.step = from.step
  to.kind = from.kind
  to.startS = from.startS
  to.durationS = from.durationS
  to.systemM3S = from.systemM3S
  to.loadPa = from.loadPa
  to.peakLoadPa = from.peakLoadPa
  to.pressurePa = from.pressurePa
  to.loggedPa = from.loggedPa
  to.reliefM3S = from.reliefM3S
  to.stroke = from.stroke
  to.speedRadS = from.speedRadS
  to.unit = from.unit
  to.motorOn = from.motorOn
  to.extraJ = from.extraJ
  to.order = from.order
}

/** A step of one's own to change: one of the log has nothing of its own to spread. */
export function copyOf(step: SupplyStep): WorkingStep {
  return {
    step: step.step,
    kind: step.kind,
    startS: step.startS,
    durationS: step.durationS,
    systemM3S: step.systemM3S,
    loadPa: step.loadPa,
    peakLoadPa: step.peakLoadPa,
    pressurePa: step.pressurePa,
    loggedPa: step.loggedPa,
    reliefM3S: step.reliefM3S,
    stroke: step.stroke,
    speedRadS: step.speedRadS,
    unit: step.unit,
    motorOn: step.motorOn,
    extraJ: step.extraJ,
    order: step.order,
  }
}

/** Readings of a stretch of one kind: a step of the log, or what stands for several that are alike. */
export interface Metered {
  readonly kind: PhaseKind
  readonly durationS: number
  readonly means: StretchMeans
  readonly peakLoadPa: number
}

/** Machine and relief under one set of parameter values. */
export interface Under {
  readonly model: MachineModel
  readonly curve: ReliefCurve
  readonly values: ParameterValues
}

/** The supply that readings show. */
export function suppliedStep(
  { kind, durationS, means, peakLoadPa }: Metered,
  step: number,
  startS: number,
  order: LogOrder,
  { model, curve, values }: Under,
): WorkingStep {
  const read = corrected(means, values)
  const flows = nodeFlows(read, kind, model, curve, read.pumpPressurePa)
  return {
    step,
    kind,
    startS,
    durationS,
    systemM3S: flows.system,
    loadPa: read.loadPressurePa,
    peakLoadPa: peakLoadPa - (means.loadPressurePa - read.loadPressurePa),
    pressurePa: read.pumpPressurePa,
    loggedPa: read.pumpPressurePa,
    reliefM3S: flows.relief,
    stroke: model.isFixed ? 'full' : 'part',
    speedRadS: model.drive && read.speedRadS > 0 ? read.speedRadS : null,
    unit: unitInState(model, read.pumpState),
    motorOn: kind !== 'stopped' && kind !== 'starting',
    extraJ: 0,
    order,
  }
}

/** Shaft power of the supply in one step, W. */
export function supplyShaftW(supply: SupplyStep, model: MachineModel): number {
  if (!supply.motorOn || Number.isNaN(supply.pressurePa)) return 0
  const unit = supply.unit ?? model
  const unloaded = supply.kind === 'idle-unloaded'
  if (supply.stroke === 'part' && !unloaded) {
    return pumpShaftW(unit, supply.pressurePa, supply.systemM3S, supply.speedRadS ?? undefined)
  }
  if (supply.speedRadS !== null) {
    return shaftTorqueNm(supply.unit ?? ownUnit(model), supply.pressurePa) * supply.speedRadS
  }
  if (!supply.unit?.unloaded) return pumpShaftW(unit, supply.pressurePa)
  const torque = shaftTorqueNm(supply.unit, supply.pressurePa)
  return torque * supply.unit.motor.speedRadS(torque)
}

/** Electric power of the supply in one step by the models, W, from its shaft power. */
export function supplyElectricW(supply: SupplyStep, model: MachineModel, shaftW: number): number {
  const { motor, drive } = supply.unit ?? model
  const { speedRadS } = supply
  const lossW = speedRadS === null ? motor.lossW(shaftW) : lossAtSpeedW(motor, shaftW / speedRadS, speedRadS)
  const outputW = shaftW + lossW
  return outputW + (drive?.lossW(outputW) ?? 0)
}

/** Electric energy of the supply in one step by the machine's model, J. */
export function supplyElectricJ(supply: SupplyStep, model: MachineModel): number {
  if (!supply.motorOn) return supply.extraJ
  return supply.durationS * supplyElectricW(supply, model, supplyShaftW(supply, model)) + supply.extraJ
}
