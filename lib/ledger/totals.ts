import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import { ACCOUNT_KEYS } from './account-series'
import type { AlikeSteps } from './alike-steps'
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
import { corrected, offsetsOf } from './readings'
import { loadShares, stepFrame } from './step-frame'

export const SHARE_KEYS = ['idle', 'overRelief', 'metering', 'work', 'unaccounted'] as const
export type ShareKey = (typeof SHARE_KEYS)[number]

/**
 * Energies of a recording in J as one vector, so that intervals of any sum follow from one covariance:
 * first kind by kind every account key, then the shares at the meter.
 */
export const TOTALS_LENGTH = PHASE_KINDS.length * ACCOUNT_KEYS.length + SHARE_KEYS.length

const KIND_AT = new Map(PHASE_KINDS.map((kind, k) => [kind, k * ACCOUNT_KEYS.length]))
const KEY_AT = new Map(ACCOUNT_KEYS.map((key, k) => [key, k]))

export const kindIndex = (kind: PhaseKind, key: keyof Streams) =>
  (KIND_AT.get(kind) ?? Number.NaN) + (KEY_AT.get(key) ?? Number.NaN)
const SHARE_AT = Object.fromEntries(
  SHARE_KEYS.map((key, k) => [key, PHASE_KINDS.length * ACCOUNT_KEYS.length + k]),
) as Record<ShareKey, number>
export const shareIndex = (key: ShareKey) => SHARE_AT[key]

const IDLE_KINDS: ReadonlySet<PhaseKind> = new Set(['idle-loaded', 'idle-unloaded'])
/** Hydraulic output below this share of rated shaft power is nil: the input belongs to idle. */
const NIL_OUTPUT_SHARE = 0.002

/** Adds a step's electric input, shared over the hydraulic streams in proportion to their power. */
export function addShares(
  totals: Float64Array,
  kind: PhaseKind,
  energy: Streams,
  durationS: number,
  ratedShaftW: number,
): void {
  if (IDLE_KINDS.has(kind)) {
    totals[SHARE_AT.idle] += energy.electricIn
    return
  }
  totals[SHARE_AT.unaccounted] += energy.unaccounted
  const sharedJ = energy.electricIn - energy.unaccounted
  const separable = !Number.isNaN(energy.work)
  const overRelief = Math.max(0, energy.overRelief + energy.unloading)
  const metering = separable ? Math.max(0, energy.metering) : 0
  const work = Math.max(0, separable ? energy.work : energy.intoSystem)
  const output = overRelief + metering + work
  if (output <= NIL_OUTPUT_SHARE * ratedShaftW * durationS) {
    totals[SHARE_AT.idle] += sharedJ
    return
  }
  totals[SHARE_AT.overRelief] += (sharedJ * overRelief) / output
  totals[SHARE_AT.metering] += (sharedJ * metering) / output
  totals[SHARE_AT.work] += (sharedJ * work) / output
}

/** Totals from the energies of the steps' samples: the figures that are shown. */
export function totalsOfSteps(
  steps: readonly Step[],
  energiesJ: Float64Array,
  model: MachineModel,
): Float64Array {
  const totals = new Float64Array(TOTALS_LENGTH)
  const energy = noStreams()
  steps.forEach(({ kind, durationS }, k) => {
    const place = kindIndex(kind, ACCOUNT_KEYS[0])
    for (let j = 0; j < ACCOUNT_KEYS.length; j++) {
      const valueJ = energiesJ[k * ACCOUNT_KEYS.length + j]
      energy[ACCOUNT_KEYS[j]] = valueJ
      totals[place + j] += valueJ
    }
    addShares(totals, kind, energy, durationS, model.motor.ratedShaftW)
  })
  return totals
}

/** The same totals from mean readings: quick enough to be asked for every parameter. */
export function totalsOfAlike(
  groups: readonly AlikeSteps[],
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
  currentLimitA: number,
): Float64Array {
  const totals = new Float64Array(TOTALS_LENGTH)
  const streams = noStreams()
  const flows = noFlows()
  const power: ElectricPower = { electricW: 0, shaftW: 0 }
  const shares = loadShares(groups, values)
  const read = offsetsOf(values)
  for (const group of groups) {
    const { kind, durationS } = group
    corrected(group.means, values, read)
    const frame = stepFrame(group, read, shares, model, curve, currentLimitA)
    nodeFlows(read, kind, model, curve, frame.reliefPa, group.isSteady, flows)
    electricPower(read, kind, model, flows.pump, frame.currentWeight, power)
    streamsAt(read, kind, flows, power, frame, streams)
    const place = kindIndex(kind, ACCOUNT_KEYS[0])
    for (let j = 0; j < ACCOUNT_KEYS.length; j++) {
      streams[ACCOUNT_KEYS[j]] *= durationS
      totals[place + j] += streams[ACCOUNT_KEYS[j]]
    }
    addShares(totals, kind, streams, durationS, model.motor.ratedShaftW)
  }
  return totals
}
