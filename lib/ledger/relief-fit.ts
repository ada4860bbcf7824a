import { inverse, Matrix } from 'ml-matrix'
import type { MachineModel } from '@/lib/machine/machine-model'
import { CRACK_RATIO, type ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import { nodeFlows } from './operating-point'
import type { ParameterValues } from './parameters'
import { corrected } from './readings'

/** The relief's line fitted to the log: pressure = setting − span·(1 − flow/rated flow). */
export interface ReliefLine {
  readonly curve: ReliefCurve
  /** Covariance of (setting, span = setting − cracking), Pa². */
  readonly covariance: readonly [number, number, number, number]
  /** True where flows far enough apart were seen to find the slope; else the kind's usual ratio gives it. */
  readonly slopeSeen: boolean
}

interface Bin {
  weight: number
  flow: number
  pressure: number
  square: number
  steps: number
}

/** Flow bins, and the reach of lift that shows a slope, as shares of rated flow. */
const BIN_SHARE = 0.05
/** A metering step that passes less than this share of rated flow may show a leak and not the line. */
const BEYOND_LEAK_SHARE = 0.15
const SLOPE_REACH_SHARE = 0.2
/** Smallest misfit of a bin's mean pressure, as a share of the setting. */
const LEAST_MISFIT = 0.002
const SETTING_PRIOR_SHARE = 0.05
const LEAST_STEP_SAMPLES = 3
/** Where no dead-headed stretch is sure, the setting may lie higher by about this many spans (1 sd). */
const UNSEEN_SPANS = 0.5

function binSteps(steps: readonly Step[], model: MachineModel, values: ParameterValues): Bin[] {
  const bins = new Map<number, Bin>()
  const { relief } = model
  for (const step of steps) {
    if (step.to - step.from < LEAST_STEP_SAMPLES) continue
    if (step.kind !== 'work-metering' && step.kind !== 'work-holding' && step.kind !== 'idle-loaded') continue
    const read = corrected(step.means, values)
    const splitMeasured = !Number.isNaN(read.systemFlowM3S) || !Number.isNaN(read.returnFlowM3S)
    if (!splitMeasured && step.kind === 'work-metering') continue
    const flow = nodeFlows(read, step.kind, model, relief, read.pumpPressurePa).relief
    const least = step.kind === 'work-metering' ? BEYOND_LEAK_SHARE : BIN_SHARE
    if (!(flow > least * relief.ratedFlowM3S)) continue
    const key = Math.round(flow / (BIN_SHARE * relief.ratedFlowM3S))
    const bin = bins.get(key) ?? { weight: 0, flow: 0, pressure: 0, square: 0, steps: 0 }
    bins.set(key, bin)
    bin.weight += step.durationS
    bin.flow += step.durationS * flow
    bin.pressure += step.durationS * read.pumpPressurePa
    bin.square += step.durationS * read.pumpPressurePa ** 2
    bin.steps += 1
  }
  return [...bins.values()]
}

/**
 * Whether some stretch is sure to have the whole flow over the relief: shown by a signal, the load pressure
 * or meters, or because the machine has no other way to idle. On a machine that unloads when idle, pressure
 * alone does not tell a hold from metering.
 */
function isDeadHeadSeen(steps: readonly Step[], model: MachineModel): boolean {
  if (model.machine.unloading.kind === 'none') return true
  if (!steps.some(({ kind }) => kind === 'idle-unloaded')) return true
  return steps.some(({ means }) => {
    const told = [means.systemFlowM3S, means.returnFlowM3S, means.loadPressurePa, means.cycleActive]
    return told.some((value) => !Number.isNaN(value))
  })
}

/**
 * Fits the relief's line by weighted least squares over bins of flow, with priors from the nameplate and
 * the valve's kind. Null where the relief was not seen open, or the pump is not fixed.
 */
export function fitRelief(
  steps: readonly Step[],
  model: MachineModel,
  values: ParameterValues,
): ReliefLine | null {
  if (!model.isFixed) return null
  const bins = binSteps(steps, model, values)
  if (bins.length === 0) return null
  const { settingPa, ratedFlowM3S } = model.relief
  const lifts = bins.map((bin) => bin.flow / bin.weight / ratedFlowM3S)
  const slopeSeen = Math.max(...lifts) - Math.min(...lifts) > SLOPE_REACH_SHARE
  const ratio = CRACK_RATIO[model.machine.relief.kind]
  const spanSd = (slopeSeen ? 4 : 1) * ratio.sd * settingPa
  const settingSd = SETTING_PRIOR_SHARE * settingPa
  const information = new Matrix([
    [1 / settingSd ** 2, 0],
    [0, 1 / spanSd ** 2],
  ])
  const right = new Matrix([[settingPa / settingSd ** 2], [((1 - ratio.mean) * settingPa) / spanSd ** 2]])
  bins.forEach((bin, k) => {
    const pressure = bin.pressure / bin.weight
    const spread = Math.sqrt(Math.max(0, bin.square / bin.weight - pressure ** 2) / bin.steps)
    const weight = 1 / Math.max(LEAST_MISFIT * settingPa, spread) ** 2
    const row = [1, lifts[k] - 1]
    for (let a = 0; a < 2; a++) {
      right.set(a, 0, right.get(a, 0) + weight * row[a] * pressure)
      for (let b = 0; b < 2; b++) information.set(a, b, information.get(a, b) + weight * row[a] * row[b])
    }
  })
  const covariance = inverse(information)
  const solved = covariance.mmul(right)
  const deadHeadSeen = isDeadHeadSeen(steps, model)
  const setting = solved.get(0, 0)
  const span = Math.max(solved.get(1, 0), 0.002 * setting)
  return {
    curve: { settingPa: setting, crackingPa: setting - span, ratedFlowM3S, deadHeadSeen },
    covariance: [
      covariance.get(0, 0) + (deadHeadSeen ? 0 : (UNSEEN_SPANS * span) ** 2),
      covariance.get(0, 1),
      covariance.get(1, 0),
      covariance.get(1, 1),
    ],
    slopeSeen,
  }
}
