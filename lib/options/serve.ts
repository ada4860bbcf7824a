import type { MachineModel } from '@/lib/machine/machine-model'
import { type ReliefCurve, reliefSlope } from '@/lib/machine/relief'
import { eachStep, type SupplyChange } from './change'
import { reliefNear, starvedAt, type Ways } from './starved'
import type { WorkingStep } from './supply'
import { type PowerUnit, replacing, unitFlowM3S } from './unit'

/** Longer strokes may cost this share of the machine's own working time unless an option says otherwise. */
export const CYCLE_TIME_LIMIT_SHARE = 0.05
/** What that limit may be set to: never twice the time. */
export const LIMIT_RANGE = [0, 1] as const
/** A stroke gets at least this share of the flow it had: slower is not the same work any more. */
const LEAST_FLOW_SHARE = 0.02

/** Gives a step another flow to the actuator: same volume, so another time. */
export function toFlow(step: WorkingStep, flowM3S: number): void {
  if (!(step.systemM3S > 0)) return
  const share = Math.max(LEAST_FLOW_SHARE, flowM3S / step.systemM3S)
  step.systemM3S *= share
  step.durationS /= share
}

/**
 * A step with the relief open when more flow (or less) comes to the node: the relief takes the difference and
 * its pressure moves along its line; where it cannot give up so much, a metering step is starved.
 */
function giveMoreFlow(
  step: WorkingStep,
  after: PowerUnit,
  moreM3S: number,
  relief: ReliefCurve,
  ways: Ways,
): void {
  const open = Math.max(0, step.reliefM3S)
  const passes = open + moreM3S
  if (passes < 0 && step.kind === 'work-metering') {
    starve(step, after, relief, ways)
    return
  }
  step.reliefM3S = Math.max(0, passes)
  step.pressurePa += reliefSlope(relief) * (step.reliefM3S - open)
}

/** Has a working step make do with what a unit gives. */
export function starve(step: WorkingStep, unit: PowerUnit, relief: ReliefCurve, ways: Ways): void {
  const settled = starvedAt(
    step,
    (pressurePa) => unitFlowM3S(unit, pressurePa),
    reliefNear(step, relief),
    ways,
  )
  toFlow(step, settled.systemM3S)
  step.pressurePa = settled.pressurePa
  step.reliefM3S = settled.reliefM3S
}

/** Has a step served by another motor or pump that turns at the speed the mains give it. */
function serveBy(
  step: WorkingStep,
  before: PowerUnit,
  after: PowerUnit,
  relief: ReliefCurve,
  ways: Ways,
): void {
  step.unit = after
  const fixedFlow = step.stroke === 'full' && step.speedRadS === null && step.kind !== 'idle-unloaded'
  if (!step.motorOn || !fixedFlow || Number.isNaN(step.pressurePa)) return
  const moreM3S = unitFlowM3S(after, step.pressurePa) - unitFlowM3S(before, step.pressurePa)
  if (step.kind === 'work-moving') toFlow(step, step.systemM3S + moreM3S)
  else if (!Number.isNaN(step.reliefM3S)) giveMoreFlow(step, after, moreM3S, relief, ways)
}

/** Every step served by what `replace` makes of its motor and pump. */
export const reUnited = (
  replace: (unit: PowerUnit, model: MachineModel) => PowerUnit,
  ways: Ways,
): SupplyChange =>
  eachStep((model) => {
    const units = replacing(model, (unit) => replace(unit, model))
    return (step) => {
      const { before, after } = units(step)
      serveBy(step, before, after, model.relief, ways)
    }
  })

/**
 * Change of the machine's own part of its cycles: working time after over before, less 1. Idle time is
 * left out, for it belongs to the operator and to what is fed in.
 */
export const cycleTimeChange = (before: { workS: number }, after: { workS: number }) =>
  before.workS > 0 ? after.workS / before.workS - 1 : 0
