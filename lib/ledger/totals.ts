import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import { ACCOUNT_KEYS, type AccountSeries, loadShares, stepFrame } from './account'
import {
  type ElectricPower,
  electricPower,
  nodeFlows,
  noFlows,
  noStreams,
  type Streams,
  streamsAt,
} from './operating-point'
import type { ParameterValues } from './parameters'
import { corrected } from './readings'

export const SHARE_KEYS = ['idle', 'overRelief', 'metering', 'work', 'unaccounted'] as const
export type ShareKey = (typeof SHARE_KEYS)[number]

/**
 * Energies of a recording in J as one vector, so that intervals of any sum follow from one covariance:
 * first kind by kind every account key, then the shares at the meter.
 */
export const TOTALS_LENGTH = PHASE_KINDS.length * ACCOUNT_KEYS.length + SHARE_KEYS.length

export const kindIndex = (kind: PhaseKind, key: keyof Streams) =>
  PHASE_KINDS.indexOf(kind) * ACCOUNT_KEYS.length + ACCOUNT_KEYS.indexOf(key)
export const shareIndex = (key: ShareKey) =>
  PHASE_KINDS.length * ACCOUNT_KEYS.length + SHARE_KEYS.indexOf(key)

const IDLE_KINDS: ReadonlySet<PhaseKind> = new Set(['idle-loaded', 'idle-unloaded'])
/** Hydraulic output below this share of rated shaft power is nil: the input belongs to idle. */
const NIL_OUTPUT_SHARE = 0.002

/** Adds a step's electric input, shared over the hydraulic streams in proportion to their power. */
function addShares(
  totals: Float64Array,
  kind: PhaseKind,
  energy: Streams,
  durationS: number,
  ratedShaftW: number,
): void {
  const add = (key: ShareKey, valueJ: number) => {
    totals[shareIndex(key)] += valueJ
  }
  if (IDLE_KINDS.has(kind)) {
    add('idle', energy.electricIn)
    return
  }
  add('unaccounted', energy.unaccounted)
  const sharedJ = energy.electricIn - energy.unaccounted
  const separable = !Number.isNaN(energy.work)
  const overRelief = Math.max(0, energy.overRelief + energy.unloading)
  const metering = separable ? Math.max(0, energy.metering) : 0
  const work = Math.max(0, separable ? energy.work : energy.intoSystem)
  const output = overRelief + metering + work
  if (output <= NIL_OUTPUT_SHARE * ratedShaftW * durationS) {
    add('idle', sharedJ)
    return
  }
  add('overRelief', (sharedJ * overRelief) / output)
  add('metering', (sharedJ * metering) / output)
  add('work', (sharedJ * work) / output)
}

/** Totals from the account's samples: the figures that are shown. */
export function totalsOfSeries(
  steps: readonly Step[],
  series: AccountSeries,
  holdS: Float64Array,
  model: MachineModel,
): Float64Array {
  const totals = new Float64Array(TOTALS_LENGTH)
  for (const step of steps) {
    const energy = noStreams()
    for (const key of ACCOUNT_KEYS) {
      const power = series[key]
      let sum = 0
      for (let i = step.from; i < step.to; i++) sum += power[i] * holdS[i]
      energy[key] = sum
      totals[kindIndex(step.kind, key)] += sum
    }
    addShares(totals, step.kind, energy, step.durationS, model.motor.ratedShaftW)
  }
  return totals
}

/** The same totals from the steps' mean readings: quick enough to be asked for every parameter. */
export function totalsOfSteps(
  steps: readonly Step[],
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
  currentLimitA: number,
): Float64Array {
  const totals = new Float64Array(TOTALS_LENGTH)
  const streams = noStreams()
  const flows = noFlows()
  const power: ElectricPower = { electricW: 0, shaftW: 0 }
  const shares = loadShares(steps, values)
  for (const step of steps) {
    const frame = stepFrame(step, shares, model, curve, values, currentLimitA)
    const read = corrected(step.means, values)
    nodeFlows(read, step.kind, model, curve, frame.reliefPa, flows)
    electricPower(read, step.kind, model, flows.pump, frame.currentWeight, power)
    streamsAt(read, step.kind, flows, power, frame, streams)
    for (const key of ACCOUNT_KEYS) {
      streams[key] *= step.durationS
      totals[kindIndex(step.kind, key)] += streams[key]
    }
    addShares(totals, step.kind, streams, step.durationS, model.motor.ratedShaftW)
  }
  return totals
}
