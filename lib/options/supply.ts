import type { PhaseKind } from '@/lib/contract/result'
import { nodeFlows } from '@/lib/ledger/operating-point'
import type { ParameterValues } from '@/lib/ledger/parameters'
import { corrected } from '@/lib/ledger/readings'
import { type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { lossAtSpeedW } from '@/lib/machine/motor-speed'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import { ownUnit, type PowerUnit, shaftTorqueNm } from './unit'

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
  /** At part stroke the pump delivers the system flow alone. */
  readonly stroke: 'full' | 'part'
  /** Speed that a drive sets; null on the mains, where the load sets it. */
  readonly speedRadS: number | null
  /** What serves the step in the place of the machine's own motor and pump, or null. */
  readonly unit: PowerUnit | null
  readonly motorOn: boolean
  /** Energy beside the steady power, for a restart, J. */
  readonly extraJ: number
}

/** A step cut in two, the first part at most `firstS` long; either part may be empty. */
export function splitStep(step: SupplyStep, firstS: number): [SupplyStep, SupplyStep] {
  const durationS = Math.min(Math.max(firstS, 0), step.durationS)
  return [
    { ...step, durationS },
    { ...step, startS: step.startS + durationS, durationS: step.durationS - durationS },
  ]
}

/** A change of the supply; never of the demand. */
export type SupplyChange = (supply: readonly SupplyStep[], model: MachineModel) => SupplyStep[]

/** The supply as the log shows it. */
export function loggedSupply(
  steps: readonly Step[],
  timeS: Float64Array,
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
): SupplyStep[] {
  return steps.map((step, index) => {
    const read = corrected(step.means, values)
    const flows = nodeFlows(read, step.kind, model, curve, read.pumpPressurePa)
    return {
      step: index,
      kind: step.kind,
      startS: timeS[step.from],
      durationS: step.durationS,
      systemM3S: flows.system,
      loadPa: read.loadPressurePa,
      peakLoadPa: step.peakLoadPa - (step.means.loadPressurePa - read.loadPressurePa),
      pressurePa: read.pumpPressurePa,
      loggedPa: read.pumpPressurePa,
      reliefM3S: flows.relief,
      stroke: model.isFixed ? 'full' : 'part',
      speedRadS: model.drive && read.speedRadS > 0 ? read.speedRadS : null,
      unit: null,
      motorOn: step.kind !== 'stopped' && step.kind !== 'starting',
      extraJ: 0,
    }
  })
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
