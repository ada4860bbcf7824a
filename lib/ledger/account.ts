import type { PhaseKind, Stream } from '@/lib/contract/result'
import { type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import {
  electricPower,
  nodeFlows,
  noStreams,
  type Readings,
  type Streams,
  streamsAt,
} from './operating-point'
import { at, type ParameterValues } from './parameters'
import { corrected } from './readings'

/** Electric input and every stream it goes to, sample by sample, in W. */
export type AccountSeries = Readonly<Record<'electricIn' | Stream, Float64Array>>

export const ACCOUNT_KEYS = Object.keys(noStreams()) as (keyof Streams)[]

/** Beyond this the motor's and the pump's word on shaft power contradict each other (95 % and more). */
const CONTRADICTION_SHARE = 0.12
const CONTRADICTION_RATED_SHARE = 0.06
/** Misfit of power from current: of the motor model (share of rated), and of the pump model (share of power and of rated). */
const CURRENT_MODEL_SHARE = 0.015
const PUMP_MODEL_SHARE = 0.02
const PUMP_RATED_SHARE = 0.008

/** A shorter step is a transition, in which motor and pump need not agree. */
const LEAST_CONTRADICTION_S = 1

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
}

/** Weighs motor current against the pump model by their variances at the step's mean pressure. */
function weightOfCurrent(model: MachineModel, pumpW: number, currentLimitA: number): number {
  const amps = (currentLimitA / 1.96) * model.motor.shaftPerAmpere(pumpW)
  const byCurrent = amps ** 2 + (CURRENT_MODEL_SHARE * model.motor.ratedShaftW) ** 2
  const byPump = (PUMP_MODEL_SHARE * pumpW + PUMP_RATED_SHARE * model.motor.ratedShaftW) ** 2
  return byPump / (byCurrent + byPump)
}

/** Load over pump pressure by kind of phase, where both are known: it stands in where load cells are missing. */
export function loadShares(steps: readonly Step[], values: ParameterValues): ReadonlyMap<PhaseKind, number> {
  const sums = new Map<PhaseKind, [number, number]>()
  for (const step of steps) {
    const { loadPressurePa, pumpPressurePa } = corrected(step.means, values)
    if (Number.isNaN(loadPressurePa) || Number.isNaN(pumpPressurePa)) continue
    const [load, pump] = sums.get(step.kind) ?? [0, 0]
    sums.set(step.kind, [load + step.durationS * loadPressurePa, pump + step.durationS * pumpPressurePa])
  }
  return new Map([...sums].map(([kind, [load, pump]]) => [kind, pump > 0 ? load / pump : 0]))
}

export function stepFrame(
  step: Pick<Step, 'kind' | 'means' | 'durationS'>,
  shares: ReadonlyMap<PhaseKind, number>,
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
  currentLimitA: number,
): StepFrame {
  const read = corrected(step.means, values)
  const flows = nodeFlows(read, step.kind, model, curve, read.pumpPressurePa)
  const pumpW = pumpShaftW(model, read.pumpPressurePa, model.isFixed ? null : flows.pump)
  const currentWeight = Number.isNaN(pumpW) ? 1 : weightOfCurrent(model, pumpW, currentLimitA)
  let contradictedW = 0
  const electricSeen = !Number.isNaN(read.powerW) || !Number.isNaN(read.currentA)
  const steady = FLUID_KINDS.has(step.kind) && step.durationS >= LEAST_CONTRADICTION_S
  if (steady && electricSeen && !Number.isNaN(pumpW)) {
    const { shaftW } = electricPower(read, step.kind, model, flows.pump, currentWeight)
    const allowed = CONTRADICTION_SHARE * pumpW + CONTRADICTION_RATED_SHARE * model.motor.ratedShaftW
    const excess = Math.abs(shaftW - pumpW) - allowed
    if (excess > 0) contradictedW = Math.sign(shaftW - pumpW) * excess
  }
  const loadShare = shares.size === 0 ? Number.NaN : (shares.get(step.kind) ?? 0)
  return { reliefPa: read.pumpPressurePa, currentWeight, contradictedW, loadShare }
}

/** The account of a recording sample by sample. Every sample's parts add up to its electric input. */
export function accountSeries(
  steps: readonly Step[],
  sensors: Sensors,
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
): AccountSeries {
  const series = Object.fromEntries(
    ACCOUNT_KEYS.map((key) => [key, new Float64Array(sensors.count)]),
  ) as Record<keyof Streams, Float64Array>
  const streams = noStreams()
  const read: Readings = corrected(steps[0].means, values)
  const sources: [keyof Readings, Float64Array | null, number][] = [
    ['pumpPressurePa', sensors.pumpPressure.values, values[at('pumpPressureOffset')]],
    ['loadPressurePa', sensors.loadPressure?.values ?? null, values[at('loadPressureOffset')]],
    ['pumpFlowM3S', sensors.pumpFlow?.values ?? null, values[at('pumpFlowOffset')]],
    ['systemFlowM3S', sensors.systemFlow?.values ?? null, values[at('systemFlowOffset')]],
    ['returnFlowM3S', sensors.returnFlow?.values ?? null, values[at('returnFlowOffset')]],
    ['currentA', sensors.current?.values ?? null, values[at('currentOffset')]],
    ['powerW', sensors.power?.values ?? null, values[at('powerOffset')]],
  ]
  for (const [key, samples] of sources) if (!samples) read[key] = Number.NaN
  const fitted = sources.filter(([, samples]) => samples !== null)
  const shares = loadShares(steps, values)
  for (const step of steps) {
    const frame = stepFrame(step, shares, model, curve, values, sensors.current?.limit ?? 0)
    // Readings are steady within a step: one that is missing for long is taken at the step's mean.
    const mean = corrected(step.means, values)
    for (let i = step.from; i < step.to; i++) {
      for (const [key, samples, offset] of fitted) {
        const value = (samples as Float64Array)[i] - offset
        read[key] = Number.isNaN(value) ? mean[key] : value
      }
      const flows = nodeFlows(read, step.kind, model, curve, frame.reliefPa)
      const power = electricPower(read, step.kind, model, flows.pump, frame.currentWeight)
      streamsAt(read, step.kind, flows, power, frame, streams)
      series.electricIn[i] = streams.electricIn
      series.motorLoss[i] = streams.motorLoss
      series.pumpLoss[i] = streams.pumpLoss
      series.overRelief[i] = streams.overRelief
      series.unloading[i] = streams.unloading
      series.intoSystem[i] = streams.intoSystem
      series.metering[i] = streams.metering
      series.work[i] = streams.work
      series.unaccounted[i] = streams.unaccounted
    }
  }
  return series
}
