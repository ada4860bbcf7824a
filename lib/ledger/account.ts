import type { PhaseKind, Stream } from '@/lib/contract/result'
import { type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import {
  type ElectricPower,
  electricPower,
  nodeFlows,
  noFlows,
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

/** A sample without its sensor's offset; one that is missing for long is taken at its step's mean, for readings are steady within a step. */
function readingAt(values: Float64Array | null, i: number, offset: number, mean: number): number {
  if (values === null) return Number.NaN
  const value = values[i] - offset
  return Number.isNaN(value) ? mean : value
}

/** The account of a recording sample by sample. Every sample's parts add up to its electric input. */
export function accountSeries(
  steps: readonly Step[],
  sensors: Sensors,
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
  currentLimitA: number,
): AccountSeries {
  const series = Object.fromEntries(
    ACCOUNT_KEYS.map((key) => [key, new Float64Array(sensors.count)]),
  ) as Record<keyof Streams, Float64Array>
  // One object of each sort serves all samples: this loop sees every sample of a recording.
  const streams = noStreams()
  const flows = noFlows()
  const power: ElectricPower = { electricW: 0, shaftW: 0 }
  const read: Readings = corrected(steps[0].means, values)
  const pumpPressure = sensors.pumpPressure.values
  const loadPressure = sensors.loadPressure?.values ?? null
  const pumpFlow = sensors.pumpFlow?.values ?? null
  const systemFlow = sensors.systemFlow?.values ?? null
  const returnFlow = sensors.returnFlow?.values ?? null
  const current = sensors.current?.values ?? null
  const electric = sensors.power?.values ?? null
  const pumpPressureOffset = values[at('pumpPressureOffset')]
  const loadPressureOffset = values[at('loadPressureOffset')]
  const pumpFlowOffset = values[at('pumpFlowOffset')]
  const systemFlowOffset = values[at('systemFlowOffset')]
  const returnFlowOffset = values[at('returnFlowOffset')]
  const currentOffset = values[at('currentOffset')]
  const powerOffset = values[at('powerOffset')]
  const shares = loadShares(steps, values)
  for (const step of steps) {
    const frame = stepFrame(step, shares, model, curve, values, currentLimitA)
    const mean = corrected(step.means, values)
    for (let i = step.from; i < step.to; i++) {
      read.pumpPressurePa = readingAt(pumpPressure, i, pumpPressureOffset, mean.pumpPressurePa)
      read.loadPressurePa = readingAt(loadPressure, i, loadPressureOffset, mean.loadPressurePa)
      read.pumpFlowM3S = readingAt(pumpFlow, i, pumpFlowOffset, mean.pumpFlowM3S)
      read.systemFlowM3S = readingAt(systemFlow, i, systemFlowOffset, mean.systemFlowM3S)
      read.returnFlowM3S = readingAt(returnFlow, i, returnFlowOffset, mean.returnFlowM3S)
      read.currentA = readingAt(current, i, currentOffset, mean.currentA)
      read.powerW = readingAt(electric, i, powerOffset, mean.powerW)
      nodeFlows(read, step.kind, model, curve, frame.reliefPa, flows)
      electricPower(read, step.kind, model, flows.pump, frame.currentWeight, power)
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
