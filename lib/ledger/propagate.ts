import { Matrix } from 'ml-matrix'
import { KIND_DOUBTS } from '@/lib/phases/segment'
import { at, PARAMETERS, type ParameterValues } from './parameters'

/** 95 % of a normal distribution lies within this many standard deviations. */
export const COVERAGE = 1.96

/** How far a 95 % interval reaches below and above a value. */
export interface Reach {
  readonly below: number
  readonly above: number
}

/**
 * What widens results beside the parameters: where steps begin, how well auxiliaries on the feeder are known, and which
 * pumps of a pair fed the line.
 */
export const OWN_SOURCES = ['edges', 'auxiliaries', 'pump-states'] as const

/** Covariance of the results themselves that comes from one source. */
export interface OwnCovariance {
  readonly source: (typeof OWN_SOURCES)[number]
  readonly covariance: Matrix
}

/** Variance of the sum of results weighed by `weights`, by their own covariance. */
export function ownVariance({ covariance }: OwnCovariance, weights: ReadonlyMap<number, number>): number {
  let variance = 0
  for (const [a, weightA] of weights) {
    for (const [b, weightB] of weights) variance += weightA * weightB * covariance.get(a, b)
  }
  return variance
}

/** How a vector of results answers to the parameters. */
export interface Sensitivity {
  /** Row k: change of every result per unit of parameter k; nil for the relief's parameters. */
  readonly rows: readonly Float64Array[]
  /** Covariance of the parameters given the relief's. */
  readonly covariance: Matrix
  /** Change of every result with each of the relief's parameters at either end of its 95 % interval. */
  readonly reliefEnds: readonly (readonly [Float64Array, Float64Array])[]
  /** Covariances of the results themselves, beside the parameters'. */
  readonly own: readonly OwnCovariance[]
  /** What may as well be true instead, one thing or the other. */
  readonly doubts: readonly Doubt[]
}

/**
 * What an interval holds as one thing or the other: kinds of steps, a pump's wear that only they show, idles so short that
 * they pass for holds, leakage that no meter sees, an input that nothing reads, and what pressure and flow do together
 * within a sample while pumps change over to and fro.
 */
export const DOUBT_SOURCES = [
  ...KIND_DOUBTS,
  'short-idles',
  'hold-leakage',
  'to-and-fro',
  'unread-input',
] as const

/** Change of every result if what is in doubt were the other way round: no more than a few times in 100 may that be left out. */
export interface Doubt {
  readonly source: (typeof DOUBT_SOURCES)[number]
  readonly change: Float64Array
}

/** The parameters moved by `deviations` of one of them, the others following as their covariance says. */
function moveOne(values: ParameterValues, covariance: Matrix, one: number, move: number): ParameterValues {
  const variance = covariance.get(one, one)
  return values.map((value, k) => value + (covariance.get(k, one) / variance) * move)
}

/** Covariance of the other parameters once `one` is known. */
function givenOne(covariance: Matrix, one: number): Matrix {
  const variance = covariance.get(one, one)
  if (variance === 0) return covariance
  const column = Matrix.columnVector(covariance.getColumn(one))
  return Matrix.sub(covariance, column.mmul(column.transpose()).div(variance))
}

/**
 * Results bend in these: both ends of their intervals are computed, one after the other. No relief leaks less
 * than nothing; what it leaks less, a worn pump leaks more.
 */
const LEAK = at('reliefLeak')
export const BENDING = [LEAK, at('leakage'), at('reliefSpan'), at('reliefSetting')]

/**
 * Slopes of `results` by central differences of half a standard deviation either way, wide enough to see
 * past the corners of the models (JCGM 100:2008, 5.1.3 note 2). Leaks and the relief's line are the exception:
 * wear reaches further than luck, no leak is below nil, and flow over the relief goes with the inverse of its
 * span and stops at the pump's flow, so intervals are asymmetric where it matters.
 */
export function sensitivity(
  results: (values: ParameterValues) => Float64Array,
  values: ParameterValues,
  covariance: Matrix,
  own: readonly OwnCovariance[] = [],
  doubts: readonly Doubt[] = [],
): Sensitivity {
  const central = results(values)
  let rest = covariance
  const reliefEnds = BENDING.map((one): [Float64Array, Float64Array] => {
    const sd = Math.sqrt(Math.max(0, rest.get(one, one)))
    if (sd === 0) return [new Float64Array(central.length), new Float64Array(central.length)]
    const end = (deviations: number) => {
      const move = one === LEAK ? Math.max(deviations * sd, -values[LEAK]) : deviations * sd
      return results(moveOne(values, rest, one, move)).map((value, i) => value - central[i])
    }
    const ends: [Float64Array, Float64Array] = [end(-COVERAGE), end(COVERAGE)]
    rest = givenOne(rest, one)
    return ends
  })
  const rows = PARAMETERS.map((_, k) => {
    const sd = Math.sqrt(Math.max(0, rest.get(k, k)))
    const row = new Float64Array(central.length)
    if (sd === 0 || BENDING.includes(k)) return row
    const up = Float64Array.from(values)
    const down = Float64Array.from(values)
    up[k] += sd / 2
    down[k] -= sd / 2
    const high = results(up)
    const low = results(down)
    for (let i = 0; i < row.length; i++) row[i] = (high[i] - low[i]) / sd
    return row
  })
  return { rows, covariance: rest, reliefEnds, own, doubts }
}

/** Reach of the 95 % interval of the sum of results weighed by `weights` (index → factor). */
export function reachOfSum(of: Sensitivity, weights: ReadonlyMap<number, number>): Reach {
  const sum = (row: Float64Array) => {
    let total = 0
    for (const [index, weight] of weights) total += weight * row[index]
    return Number.isNaN(total) ? 0 : total
  }
  const slopes = of.rows.map(sum)
  let variance = 0
  for (let a = 0; a < slopes.length; a++) {
    for (let b = 0; b < slopes.length; b++) variance += slopes[a] * slopes[b] * of.covariance.get(a, b)
  }
  for (const own of of.own) variance += ownVariance(own, weights)
  const linear = COVERAGE * Math.sqrt(Math.max(0, variance))
  const ends = [
    ...of.reliefEnds.map((pair) => pair.map(sum)),
    ...of.doubts.map(({ change }) => [sum(change)]),
  ]
  return {
    below: Math.hypot(linear, ...ends.map((pair) => Math.min(0, ...pair))),
    above: Math.hypot(linear, ...ends.map((pair) => Math.max(0, ...pair))),
  }
}
