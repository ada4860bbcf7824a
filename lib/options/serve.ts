import type { MachineModel } from '@/lib/machine/machine-model'
import { type ReliefCurve, reliefSlope } from '@/lib/machine/relief'
import type { SupplyChange, SupplyStep } from './supply'
import { type PowerUnit, replacing, unitFlowM3S } from './unit'

/** Longer strokes may cost this share of the machine's own working time unless an option says otherwise. */
export const CYCLE_TIME_LIMIT_SHARE = 0.05
/** A stroke gets at least this share of the flow it had: slower is not the same work any more. */
const LEAST_FLOW_SHARE = 0.02

/** The step with another flow to the actuator: same volume, so another time. */
export function atFlow(step: SupplyStep, flowM3S: number): SupplyStep {
  if (!(step.systemM3S > 0)) return step
  const share = Math.max(LEAST_FLOW_SHARE, flowM3S / step.systemM3S)
  return { ...step, systemM3S: step.systemM3S * share, durationS: step.durationS / share }
}

/**
 * A step with the relief open when more flow (or less) comes to the node: the relief takes the difference and
 * its pressure moves along its line; what it cannot give up is missing at the actuator.
 */
export function withMoreFlow(step: SupplyStep, moreM3S: number, relief: ReliefCurve): SupplyStep {
  const open = Math.max(0, step.reliefM3S)
  const passes = open + moreM3S
  const reliefM3S = Math.max(0, passes)
  const pressurePa = step.pressurePa + reliefSlope(relief) * (reliefM3S - open)
  const served = { ...step, reliefM3S, pressurePa }
  return passes < 0 && step.kind === 'work-metering' ? atFlow(served, step.systemM3S + passes) : served
}

/** A step served by another motor or pump that turns at the speed the mains give it. */
export function servedBy(
  step: SupplyStep,
  before: PowerUnit,
  after: PowerUnit,
  relief: ReliefCurve,
): SupplyStep {
  const served = { ...step, unit: after }
  const fixedFlow = step.stroke === 'full' && step.speedRadS === null && step.kind !== 'idle-unloaded'
  if (!step.motorOn || !fixedFlow || Number.isNaN(step.pressurePa)) return served
  const moreM3S = unitFlowM3S(after, step.pressurePa) - unitFlowM3S(before, step.pressurePa)
  if (step.kind === 'work-moving') return atFlow(served, step.systemM3S + moreM3S)
  return Number.isNaN(step.reliefM3S) ? served : withMoreFlow(served, moreM3S, relief)
}

/** Every step served by what `replace` makes of its motor and pump. */
export function reUnited(replace: (unit: PowerUnit, model: MachineModel) => PowerUnit): SupplyChange {
  return (supply, model) => {
    const units = replacing(model, (unit) => replace(unit, model))
    return supply.map((step) => {
      const { before, after } = units(step)
      return servedBy(step, before, after, model.relief)
    })
  }
}

const workS = (supply: readonly SupplyStep[]) =>
  supply.reduce((sum, step) => sum + (step.kind.startsWith('work') ? step.durationS : 0), 0)

/**
 * Change of the machine's own part of its cycles: working time after over before, less 1. Idle time is
 * left out, for it belongs to the operator and to what is fed in.
 */
export function cycleTimeChange(before: readonly SupplyStep[], after: readonly SupplyStep[]): number {
  const beforeS = workS(before)
  return beforeS > 0 ? workS(after) / beforeS - 1 : 0
}
