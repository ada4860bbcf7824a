import { Matrix, solve } from 'ml-matrix'
import type { Machine } from '@/lib/contract/machine'
import { fittedMeans, type Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import { offsetsShownAtRest } from './at-rest'
import { groupSteps } from './groups'
import { misfits } from './misfits'
import { at, LIMIT_TO_SD, leakageShare, modelWith, PARAMETERS, type ParameterValues } from './parameters'

export interface Reconciled {
  readonly values: ParameterValues
  /** Covariance of `values`, PARAMETERS.length squared. */
  readonly covariance: Matrix
}

/** Pressure band of a group, as a share of the relief setting. */
const BAND_SHARE = 0.05
/** Misfits beyond this many standard deviations lose weight (Huber). */
const HUBER = 2.5
const ROUNDS = 6
/** No sensor is off by more than this many times its stated limit: what is beyond is a reading. */
const OFFSET_LIMITS = 1.5
/** Finite differences for slopes, in standard deviations of the prior. */
const SLOPE_STEP = 0.02
const LEAK = at('reliefLeak')
const OFFSETS = PARAMETERS.map((_, k) => k).filter((k) => PARAMETERS[k].endsWith('Offset'))

/**
 * Oil that is missing beyond the nameplate's leakage passes for the pump's; with one meter the relief may as well
 * have it. Its leak may then be this share of what is missing (1 sd), so that an interval reaches all of it.
 */
const ELSEWHERE_SHARE = 1

/**
 * How much wider a prior is taken for a value this many standard deviations off: most reliefs hold tight, some
 * leak far more, and a leak that meters show is believed (Cauchy's weights).
 */
const heavyTail = (deviations: number) => Math.max(1, Math.sqrt((1 + deviations ** 2) / 2))

/** Normal equations of one Gauss–Newton round in units of the priors, which keeps pascals and amperes apart. */
function normalEquations(
  missesAt: (values: ParameterValues) => { miss: number; sd: number }[],
  values: ParameterValues,
  prior: Float64Array,
  free: readonly number[],
): { information: Matrix; gradient: Matrix } {
  const here = missesAt(values)
  const slopes = free.map((k) => {
    const moved = Float64Array.from(values)
    moved[k] += SLOPE_STEP * prior[k]
    return missesAt(moved).map((m, j) => (m.miss - here[j].miss) / SLOPE_STEP)
  })
  const information = Matrix.eye(free.length)
  const gradient = Matrix.columnVector(free.map((k) => -values[k] / prior[k]))
  here.forEach(({ miss, sd }, j) => {
    const size = Math.abs(miss) / sd
    const weight = (size > HUBER ? HUBER / size : 1) / sd ** 2
    for (let a = 0; a < free.length; a++) {
      const pull = weight * slopes[a][j]
      if (pull === 0) continue
      gradient.set(a, 0, gradient.get(a, 0) - pull * miss)
      for (let b = 0; b < free.length; b++) {
        information.set(a, b, information.get(a, b) + pull * slopes[b][j])
      }
    }
  })
  return { information, gradient }
}

/** Flow that leaks in pump and relief beyond the pump's nameplate, as a share of the relief's rated flow. */
function missingShare(machine: Machine, values: ParameterValues): number {
  const { pump, relief } = modelWith(machine, new Float64Array(PARAMETERS.length))
  const nameplate = pump.leakageM3S(relief.settingPa) / relief.ratedFlowM3S
  return Math.max(0, leakageShare(values[at('leakage')]) * nameplate + values[LEAK])
}

/**
 * Reconciles the readings with each other and with the machine's models by weighted least squares with
 * priors (Gauss–Newton, Huber weights); what must hold is in misfits.ts. A relief's leak is never negative.
 * Returns parameter values and their covariance (GUM, JCGM 100:2008, linear propagation).
 */
export function reconcile(
  steps: readonly Step[],
  sensors: Sensors,
  machine: Machine,
  prior: Float64Array,
): Reconciled {
  const { settingPa } = modelWith(machine, new Float64Array(PARAMETERS.length)).relief
  const groups = groupSteps(steps, fittedMeans(sensors), BAND_SHARE * settingPa)
  const shownAtRest = offsetsShownAtRest(steps, sensors)
  const missesAt = (values: ParameterValues) => misfits(groups, values, sensors, machine, shownAtRest)
  const free = PARAMETERS.map((_, k) => k).filter((k) => prior[k] > 0)
  const tight = free.filter((k) => k !== LEAK)
  const values = new Float64Array(PARAMETERS.length)
  const wide = Float64Array.from(prior)
  for (let round = 0; round < ROUNDS; round++) {
    if (prior[LEAK] > 0) wide[LEAK] = prior[LEAK] * heavyTail(values[LEAK] / prior[LEAK])
    const move = (moving: readonly number[]) => {
      const { information, gradient } = normalEquations(missesAt, values, wide, moving)
      const moved = solve(information, gradient)
      return new Map(moving.map((k, a) => [k, values[k] + wide[k] * moved.get(a, 0)]))
    }
    let next = move(free)
    if ((next.get(LEAK) ?? 0) < 0) {
      values[LEAK] = 0
      next = move(tight)
    }
    for (const [k, value] of next) values[k] = value
    for (const k of OFFSETS) {
      const most = (OFFSET_LIMITS * prior[k]) / LIMIT_TO_SD
      values[k] = Math.min(Math.max(values[k], -most), most)
    }
  }
  if (wide[LEAK] > 0) wide[LEAK] = Math.hypot(wide[LEAK], ELSEWHERE_SHARE * missingShare(machine, values))
  const { information } = normalEquations(missesAt, values, wide, free)
  const inverse = solve(information, Matrix.eye(free.length))
  const covariance = Matrix.zeros(PARAMETERS.length, PARAMETERS.length)
  free.forEach((k, a) => {
    free.forEach((l, b) => {
      covariance.set(k, l, inverse.get(a, b) * wide[k] * wide[l])
    })
  })
  return { values, covariance }
}
