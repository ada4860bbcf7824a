import type { PhaseKind } from '@/lib/contract/result'
import { type BesideW, besideAt } from '@/lib/machine/beside-line'
import { inPumpState, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import { type ElectricPower, electricPower, nodeFlows, noFlows, type Readings } from './operating-point'
import type { ParameterValues } from './parameters'
import { offsetsOf } from './readings'

/** Beyond this the motor's and the pump's word on shaft power contradict each other (95 % and more). */
const CONTRADICTION_SHARE = 0.12
const CONTRADICTION_RATED_SHARE = 0.06
/** Misfit of power from current: of the motor model (share of rated), and of the pump model (share of power and of rated). */
const CURRENT_MODEL_SHARE = 0.015
const PUMP_MODEL_SHARE = 0.02
const PUMP_RATED_SHARE = 0.008

/** A shorter step is a transition, in which motor and pump need not agree. */
const LEAST_STEADY_S = 1

export const isSteady = (step: Pick<Step, 'durationS'>) => step.durationS >= LEAST_STEADY_S

const FLUID_KINDS: ReadonlySet<PhaseKind> = new Set([
  'idle-unloaded',
  'idle-loaded',
  'work-moving',
  'work-metering',
  'work-holding',
])

/** What a step fixes for all its samples: the weight of the current, the pressure of the relief, the contradiction. */
export interface StepFrame {
  readonly reliefPa: number
  readonly currentWeight: number
  readonly contradictedW: number
  /** Load pressure over pump pressure in the step's kind of phase, for moments without a load pressure; NaN without a sensor. */
  readonly loadShare: number
  /** False for a transition, in which valves move. */
  readonly isSteady: boolean
  /** What pumps beside the line deliver; null where all pumps feed it. */
  readonly beside: BesideW | null
}

/** Weighs motor current against the pump model by their variances at the step's mean pressure. */
function weightOfCurrent(model: MachineModel, pumpW: number, currentLimitA: number): number {
  const amps = (currentLimitA / 1.96) * model.motor.shaftPerAmpere(pumpW)
  const byCurrent = amps ** 2 + (CURRENT_MODEL_SHARE * model.motor.ratedShaftW) ** 2
  const byPump = (PUMP_MODEL_SHARE * pumpW + PUMP_RATED_SHARE * model.motor.ratedShaftW) ** 2
  return byPump / (byCurrent + byPump)
}

/** Load over pump pressure by kind of phase, where both are known: it stands in where load cells are missing. */
export function loadShares(
  steps: readonly Pick<Step, 'kind' | 'means' | 'durationS'>[],
  values: ParameterValues,
): ReadonlyMap<PhaseKind, number> {
  const sums = new Map<PhaseKind, [number, number]>()
  if (steps.every(({ means }) => Number.isNaN(means.loadPressurePa))) return new Map()
  const offsets = offsetsOf(values)
  for (const step of steps) {
    const loadPressurePa = step.means.loadPressurePa - offsets.loadPressurePa
    const pumpPressurePa = step.means.pumpPressurePa - offsets.pumpPressurePa
    if (Number.isNaN(loadPressurePa) || Number.isNaN(pumpPressurePa)) continue
    const [load, pump] = sums.get(step.kind) ?? [0, 0]
    sums.set(step.kind, [load + step.durationS * loadPressurePa, pump + step.durationS * pumpPressurePa])
  }
  return new Map([...sums].map(([kind, [load, pump]]) => [kind, pump > 0 ? load / pump : 0]))
}

// One of each serves all steps.
const flowsThere = noFlows()
const powerThere: ElectricPower = { electricW: 0, shaftW: 0 }

/** `read` are the step's mean readings without their offsets. */
export function stepFrame(
  step: Pick<Step, 'kind'> & { readonly isSteady: boolean },
  read: Readings,
  shares: ReadonlyMap<PhaseKind, number>,
  model: MachineModel,
  curve: ReliefCurve,
  currentLimitA: number,
): StepFrame {
  const flows = nodeFlows(read, step.kind, model, curve, read.pumpPressurePa, step.isSteady, flowsThere)
  const fed = inPumpState(model, read.pumpState)
  const pumpW = pumpShaftW(fed, read.pumpPressurePa, model.isFixed ? null : flows.pump, read.speedRadS)
  const currentWeight = Number.isNaN(pumpW) ? 1 : weightOfCurrent(model, pumpW, currentLimitA)
  let contradictedW = 0
  const electricSeen = !Number.isNaN(read.powerW) || !Number.isNaN(read.currentA)
  if (step.isSteady && FLUID_KINDS.has(step.kind) && electricSeen && !Number.isNaN(pumpW)) {
    const { shaftW } = electricPower(read, step.kind, model, flows.pump, currentWeight, powerThere)
    const allowed = CONTRADICTION_SHARE * pumpW + CONTRADICTION_RATED_SHARE * model.motor.ratedShaftW
    const excess = Math.abs(shaftW - pumpW) - allowed
    if (excess > 0) contradictedW = Math.sign(shaftW - pumpW) * excess
  }
  const loadShare = shares.size === 0 ? Number.NaN : (shares.get(step.kind) ?? 0)
  const beside = besideAt(fed, read.pumpPressurePa)
  return {
    reliefPa: read.pumpPressurePa,
    currentWeight,
    contradictedW,
    loadShare,
    isSteady: step.isSteady,
    beside,
  }
}
