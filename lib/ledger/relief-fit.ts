import { inverse, Matrix } from 'ml-matrix'
import type { Machine } from '@/lib/contract/machine'
import type { MachineModel } from '@/lib/machine/machine-model'
import { CRACK_RATIO, type ReliefCurve } from '@/lib/machine/relief'
import { isLevel } from '@/lib/phases/flow-share'
import { loadIsBehindRestriction } from '@/lib/phases/load-tells'
import type { Segmentation } from '@/lib/phases/segment'
import { fittedMeans, type Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import { meteringDepths } from './metering-depths'
import { LIMIT_TO_SD, modelWith, PARAMETERS, type ParameterValues } from './parameters'
import type { Reconciled } from './reconcile'
import { type ReliefBin, reliefBins, reliefPoint } from './relief-bins'
import { spanFromLevels } from './relief-span'
import type { TankLine } from './tank-line'

/** Covariance of (setting, span = setting − cracking), Pa². */
export type LineCovariance = readonly [number, number, number, number]

/** The relief's line fitted to the log: pressure = setting − span·(1 − flow/rated flow). */
export interface ReliefLine {
  readonly curve: ReliefCurve
  /** How well the points fix the line, readings and pump model taken as they are. */
  readonly covariance: LineCovariance
  /** The same with what is uncertain of sensors and pump: how well the valve itself is known. */
  readonly wholeCovariance: LineCovariance
  /** True where flows far enough apart were seen to find the slope; else the kind's usual ratio gives it. */
  readonly slopeSeen: boolean
}

/** Reach of lift that shows a slope, as a share of rated flow. */
const SLOPE_REACH_SHARE = 0.2
/** Smallest misfit of a point's pressure, as a share of the setting. */
const LEAST_MISFIT = 0.002
const SETTING_PRIOR_SHARE = 0.05
const LEAST_SPAN_SHARE = 0.002
/** Where no dead-headed stretch is sure, the setting may lie higher by about this many spans (1 sd). */
const UNSEEN_SPANS = 0.5
/** Points beyond this many standard deviations lose weight (Huber): transitions and mistaken steps do not bend the line. */
const HUBER = 1.5
const ROUNDS = 8

type Segmented = Pick<Segmentation, 'steps' | 'waitsAreTimed'>

/**
 * Whether some stretch is sure to have the whole flow over the relief: shown by a signal, the load pressure
 * or meters, because the machine has no other way to idle, or by a timer's wait that is long enough to show a level. On a machine that unloads when idle, pressure
 * alone does not tell a hold from metering.
 */
function isDeadHeadSeen({ steps, waitsAreTimed }: Segmented, machine: Machine): boolean {
  if (machine.unloading.kind === 'none') return true
  if (!steps.some(({ kind }) => kind === 'idle-unloaded')) return true
  if (waitsAreTimed && steps.some((step) => step.kind === 'idle-loaded' && isLevel(step))) return true
  return steps.some((step) => {
    const { systemFlowM3S, returnFlowM3S, cycleActive, loadPressurePa } = step.means
    if ([systemFlowM3S, returnFlowM3S, cycleActive].some((value) => !Number.isNaN(value))) return true
    const isShut = step.kind === 'idle-loaded' || step.kind === 'work-holding'
    return isShut && !Number.isNaN(loadPressurePa) && !loadIsBehindRestriction(step)
  })
}

interface Solved {
  readonly settingPa: number
  readonly spanPa: number
  readonly covariance: Matrix
  readonly lifts: readonly number[]
}

/** What is known of the span before the line is fitted, Pa: mean and standard deviation. */
interface SpanPrior {
  readonly meanPa: number
  readonly sdPa: number
  readonly skew?: ReliefCurve['spanSkew']
}

/** By the valve's kind, and where no meter tells how much passes the relief by the levels at which oil is metered. */
function spanPriorOf(
  steps: readonly Step[],
  bins: readonly ReliefBin[],
  model: MachineModel,
  values: ParameterValues,
): SpanPrior {
  const { settingPa, ratedFlowM3S } = model.relief
  const { kind } = model.machine.relief
  const ratio = CRACK_RATIO[kind]
  const depths = meteringDepths(steps, model)
  if (!depths) return { meanPa: (1 - ratio.mean) * settingPa, sdPa: ratio.sd * settingPa }
  const flows = bins.map((bin) => reliefPoint(bin, model, values).flowM3S)
  const { low, value, high } = spanFromLevels(kind, depths, Math.max(...flows) / ratedFlowM3S)
  const even = (high - low) / 2
  return {
    meanPa: value * settingPa,
    sdPa: even * settingPa * LIMIT_TO_SD,
    skew: { below: (value - low) / even, above: (high - value) / even },
  }
}

/**
 * Weighted least squares of pressure against lift with priors from the nameplate and the valve's kind,
 * repeated with Huber's weights. Points that scatter more than they should widen the covariance (Birge).
 */
function solveLine(
  bins: readonly ReliefBin[],
  model: MachineModel,
  values: ParameterValues,
  prior: SpanPrior,
): Solved {
  const plate = model.relief
  const points = bins.map((bin) => reliefPoint(bin, model, values))
  const lifts = points.map(({ flowM3S }) => flowM3S / plate.ratedFlowM3S)
  const sds = bins.map(({ spreadPa, steps }) =>
    Math.max(LEAST_MISFIT * plate.settingPa, spreadPa / Math.sqrt(steps)),
  )
  const spanSd = (reachOf(lifts) > SLOPE_REACH_SHARE ? 4 : 1) * prior.sdPa
  const settingSd = SETTING_PRIOR_SHARE * plate.settingPa
  let settingPa = plate.settingPa
  let spanPa = prior.meanPa
  let covariance = Matrix.eye(2)
  let scatter = 1
  for (let round = 0; round < ROUNDS; round++) {
    const information = new Matrix([
      [1 / settingSd ** 2, 0],
      [0, 1 / spanSd ** 2],
    ])
    const right = new Matrix([[plate.settingPa / settingSd ** 2], [prior.meanPa / spanSd ** 2]])
    let misfit = 0
    points.forEach((point, k) => {
      const pressurePa = point.pressurePa - bins[k].backPa
      const size = Math.abs(pressurePa - settingPa - (lifts[k] - 1) * spanPa) / sds[k]
      const robust = round > 0 && size > HUBER ? HUBER / size : 1
      misfit += robust * size ** 2
      const weight = robust / sds[k] ** 2
      const row = [1, lifts[k] - 1]
      for (let a = 0; a < 2; a++) {
        right.set(a, 0, right.get(a, 0) + weight * row[a] * pressurePa)
        for (let b = 0; b < 2; b++) information.set(a, b, information.get(a, b) + weight * row[a] * row[b])
      }
    })
    covariance = inverse(information)
    const solved = covariance.mmul(right)
    settingPa = solved.get(0, 0)
    spanPa = Math.max(solved.get(1, 0), LEAST_SPAN_SHARE * settingPa)
    scatter = points.length > 2 && round > 0 ? Math.max(1, misfit / (points.length - 2)) : 1
  }
  return { settingPa, spanPa, covariance: covariance.mul(scatter), lifts }
}

const reachOf = (lifts: readonly number[]) => Math.max(...lifts) - Math.min(...lifts)

/** What the parameters' uncertainty does to setting and span: the line fitted again with each of them moved. */
function parameterCovariance(
  bins: readonly ReliefBin[],
  machine: Machine,
  reconciled: Reconciled,
  prior: SpanPrior,
): Matrix {
  const { values, covariance } = reconciled
  const slopes = Matrix.zeros(2, PARAMETERS.length)
  PARAMETERS.forEach((_, k) => {
    const sd = Math.sqrt(Math.max(0, covariance.get(k, k)))
    if (sd === 0) return
    const [up, down] = [1, -1].map((sign) => {
      const moved = Float64Array.from(values)
      moved[k] += sign * sd
      return solveLine(bins, modelWith(machine, moved), moved, prior)
    })
    slopes.set(0, k, (up.settingPa - down.settingPa) / (2 * sd))
    slopes.set(1, k, (up.spanPa - down.spanPa) / (2 * sd))
  })
  return slopes.mmul(covariance).mmul(slopes.transpose())
}

/**
 * Fits the relief's line robustly to the points at which it was seen open.
 * Null where it was not seen open, or the pump is not fixed.
 * @param tank where given, the line is the valve's own, against what stands across it: a spring chamber or pilot that
 *   drains to the tank port adds the pressure there to what the spring holds (common practice, no source; an
 *   externally drained pilot feels none of it). Null: the line as the pump meets it, which the account needs.
 */
export function fitRelief(
  segmented: Segmented,
  sensors: Sensors,
  machine: Machine,
  reconciled: Reconciled,
  tank: TankLine | null = null,
): ReliefLine | null {
  const { steps } = segmented
  const { values } = reconciled
  const model = modelWith(machine, values)
  if (!model.isFixed) return null
  const bins = reliefBins(steps, fittedMeans(sensors), model, values, tank)
  if (bins.length === 0) return null
  const prior = spanPriorOf(steps, bins, model, values)
  const { settingPa, spanPa, covariance, lifts } = solveLine(bins, model, values, prior)
  const deadHeadSeen = isDeadHeadSeen(segmented, machine)
  const unseen = deadHeadSeen ? 0 : (UNSEEN_SPANS * spanPa) ** 2
  const tankVariance = tank ? (tank.limitPa * LIMIT_TO_SD) ** 2 : 0
  const asLine = (of: Matrix): LineCovariance => [
    of.get(0, 0) + unseen + tankVariance,
    of.get(0, 1),
    of.get(1, 0),
    of.get(1, 1),
  ]
  return {
    curve: {
      ...model.relief,
      settingPa,
      crackingPa: settingPa - spanPa,
      deadHeadSeen,
      ...(prior.skew ? { spanSkew: prior.skew } : {}),
    },
    covariance: asLine(covariance),
    wholeCovariance: asLine(Matrix.add(covariance, parameterCovariance(bins, machine, reconciled, prior))),
    slopeSeen: reachOf(lifts) > SLOPE_REACH_SHARE,
  }
}
