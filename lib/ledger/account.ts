import type { MachineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import type { AccountSeries } from './account-series'
import {
  type ElectricPower,
  electricPower,
  kindAtPressure,
  nodeFlows,
  noFlows,
  noStreams,
  type Readings,
  streamsAt,
} from './operating-point'
import { at, type ParameterValues } from './parameters'
import { corrected } from './readings'
import { stepEnergies } from './step-energies'
import { isSteady, loadShares, stepFrame } from './step-frame'

/** The account of a recording, worked out for whichever samples are asked for: it is never held as a whole. */
export interface Account {
  readonly steps: readonly Step[]
  /** Energies of the steps in J, one step after the other, each in the order of ACCOUNT_KEYS. */
  readonly energiesJ: Float64Array
  /** Fills in the samples [from, to), beginning at index 0 of every array. Every sample's parts add up to its input. */
  fill(from: number, to: number, into: AccountSeries): void
}

/** A sample without its sensor's offset; one that is missing for long is taken at its step's mean, for readings are steady within a step. */
function readingAt(values: Float64Array | null, i: number, offset: number, mean: number): number {
  if (values === null) return Number.NaN
  const value = values[i] - offset
  return Number.isNaN(value) ? mean : value
}

/** Index of the step that holds a sample: steps follow each other without a hole. */
function stepAt(steps: readonly Step[], sample: number): number {
  let low = 0
  let high = steps.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (steps[middle].from <= sample) low = middle
    else high = middle - 1
  }
  return low
}

export function accountOf(
  steps: readonly Step[],
  sensors: Sensors,
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
  currentLimitA: number,
  holdS: Float64Array,
): Account {
  const shares = loadShares(steps, values)
  const channel = (sensor: { readonly values: Float64Array } | null) => sensor?.values ?? null
  const pumpPressure = channel(sensors.pumpPressure)
  const loadPressure = channel(sensors.loadPressure)
  const pumpFlow = channel(sensors.pumpFlow)
  const systemFlow = channel(sensors.systemFlow)
  const returnFlow = channel(sensors.returnFlow)
  const caseDrain = channel(sensors.caseDrain)
  const current = channel(sensors.current)
  const electric = channel(sensors.power)
  const voltage = channel(sensors.voltage)
  const speed = channel(sensors.speed)
  const pumpPressureOffset = values[at('pumpPressureOffset')]
  const loadPressureOffset = values[at('loadPressureOffset')]
  const pumpFlowOffset = values[at('pumpFlowOffset')]
  const systemFlowOffset = values[at('systemFlowOffset')]
  const returnFlowOffset = values[at('returnFlowOffset')]
  const caseDrainOffset = values[at('caseDrainOffset')]
  const currentOffset = values[at('currentOffset')]
  const powerOffset = values[at('powerOffset')]
  const speedOffset = values[at('speedOffset')]
  // One object of each sort serves all samples: the loop below sees every sample of a recording.
  const streams = noStreams()
  const flows = noFlows()
  const power: ElectricPower = { electricW: 0, shaftW: 0 }

  const fillStep = (step: Step, from: number, to: number, shift: number, into: AccountSeries) => {
    const frame = stepFrame(
      { kind: step.kind, means: step.means, isSteady: isSteady(step) },
      shares,
      model,
      curve,
      values,
      currentLimitA,
    )
    const mean = corrected(step.means, values)
    const read: Readings = { ...mean }
    for (let i = from; i < to; i++) {
      read.pumpPressurePa = readingAt(pumpPressure, i, pumpPressureOffset, mean.pumpPressurePa)
      read.loadPressurePa = readingAt(loadPressure, i, loadPressureOffset, mean.loadPressurePa)
      read.pumpFlowM3S = readingAt(pumpFlow, i, pumpFlowOffset, mean.pumpFlowM3S)
      read.systemFlowM3S = readingAt(systemFlow, i, systemFlowOffset, mean.systemFlowM3S)
      read.returnFlowM3S = readingAt(returnFlow, i, returnFlowOffset, mean.returnFlowM3S)
      read.caseDrainM3S = readingAt(caseDrain, i, caseDrainOffset, mean.caseDrainM3S)
      read.currentA = readingAt(current, i, currentOffset, mean.currentA)
      read.powerW = readingAt(electric, i, powerOffset, mean.powerW)
      read.voltageV = readingAt(voltage, i, 0, mean.voltageV)
      read.speedRadS = readingAt(speed, i, speedOffset, mean.speedRadS)
      const kind = kindAtPressure(step.kind, read.pumpPressurePa, model, curve)
      nodeFlows(read, kind, model, curve, kind === step.kind ? frame.reliefPa : read.pumpPressurePa, flows)
      electricPower(read, kind, model, flows.pump, frame.currentWeight, power)
      streamsAt(read, kind, flows, power, frame, streams)
      const k = i - shift
      into.electricIn[k] = streams.electricIn
      into.motorLoss[k] = streams.motorLoss
      into.pumpLoss[k] = streams.pumpLoss
      into.overRelief[k] = streams.overRelief
      into.unloading[k] = streams.unloading
      into.intoSystem[k] = streams.intoSystem
      into.metering[k] = streams.metering
      into.work[k] = streams.work
      into.unaccounted[k] = streams.unaccounted
    }
  }
  const fill = (from: number, to: number, into: AccountSeries) => {
    for (let k = stepAt(steps, from); k < steps.length && steps[k].from < to; k++) {
      fillStep(steps[k], Math.max(from, steps[k].from), Math.min(to, steps[k].to), from, into)
    }
  }
  return { steps, energiesJ: stepEnergies(steps, fill, holdS), fill }
}
