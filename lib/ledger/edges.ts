import { Matrix } from 'ml-matrix'
import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import { ACCOUNT_KEYS } from './account-series'
import type { Streams } from './operating-point'
import { TOTALS_LENGTH } from './totals'

/** Where between two samples a step really began, as a share of the interval (1 sd; a uniform one's is 1/√12). */
const EDGE_INTERVALS = 0.29
/**
 * A logger that shows means has the sample on the way half in either step: all along a log alike, as a share of the
 * interval (1 sd). The slower a logger, the likelier it is that it does: all of them from so long on (common practice, no source).
 */
const ON_WAY_INTERVALS = 0.15
const MEANS_FROM_S = 1
/** Oil and motor answer a valve this much sooner or later than the step begins, s (1 sd; common practice, no source). */
const ANSWER_S = 0.05
/** Flow and power meters lag behind the pressures by about this much, all along a log, s (1 sd; common practice, no source). */
const LAG_S = 0.04
/** While a vent opens its oil falls from the relief's pressure to the vent's, all along a log alike, s (1 sd; common practice, no source). */
const VENT_S = 0.05
/** While a vent shuts, oil still passes it beside the load's, all along a log alike, s (1 sd; common practice, no source). */
const VENT_SHUTS_S = 0.08

type Key = keyof Streams
const OF_OIL: readonly Key[] = ['overRelief', 'unloading', 'intoSystem']

/** Streams that meters read whatever the kind of step: an edge in the wrong place books them to another kind and loses none. */
function meteredKeys({ systemFlow, returnFlow, pumpFlow }: Sensors): readonly Key[] {
  const electric: readonly Key[] = ['electricIn', 'motorLoss']
  const meters = [systemFlow, returnFlow, pumpFlow].filter((sensor) => sensor !== null).length
  const intoSystem: readonly Key[] = meters > 1 || systemFlow ? ['intoSystem', 'metering', 'work'] : []
  const toTank: readonly Key[] = meters > 1 || returnFlow ? ['overRelief', 'unloading'] : []
  return [...electric, ...intoSystem, ...toTank]
}

const W = ACCOUNT_KEYS.length
const KIND_AT = Object.fromEntries(PHASE_KINDS.map((kind, k) => [kind, k])) as Record<PhaseKind, number>
const AT = Object.fromEntries(ACCOUNT_KEYS.map((key, k) => [key, k])) as Record<Key, number>

/** An edge shifts every stream of the step before it and every stream of the step after. */
const WIDTH = 2 * W

/**
 * Sums of products of what edges shift, a square for each two kinds of phase that follow each other; of each square the
 * half below its diagonal.
 */
function edgeSums() {
  const kinds = PHASE_KINDS.length
  const squares = new Float64Array(kinds * kinds * WIDTH * WIDTH)
  return {
    /** Adds the variance of an edge that moves two sorts of shifts (s times W) by chance, each on its own. */
    add: (first: number, second: number, sampledJ: Float64Array, answeredJ: Float64Array) => {
      let place = (first * kinds + second) * WIDTH * WIDTH
      for (let a = 0; a < WIDTH; a++, place += WIDTH) {
        const sampled = sampledJ[a]
        const answered = answeredJ[a]
        if (sampled === 0 && answered === 0) continue
        for (let b = 0; b <= a; b++) squares[place + b] += sampled * sampledJ[b] + answered * answeredJ[b]
      }
    },
    /** Puts them where totals.ts has those streams. */
    spread: (into: Float64Array) => {
      const placeOf = (first: number, second: number, a: number) =>
        a < W ? first * W + a : second * W + (a - W)
      for (let pair = 0; pair < kinds * kinds; pair++) {
        const [first, second] = [Math.floor(pair / kinds), pair % kinds]
        for (let a = 0; a < WIDTH; a++) {
          for (let b = 0; b <= a; b++) {
            const sum = squares[(pair * WIDTH + a) * WIDTH + b]
            const [row, column] = [placeOf(first, second, a), placeOf(first, second, b)]
            into[row * TOTALS_LENGTH + column] += sum
            if (a !== b) into[column * TOTALS_LENGTH + row] += sum
          }
        }
      }
    },
  }
}

/**
 * Covariance of the totals that comes from the edges of steps, TOTALS_LENGTH squared, J². An edge lies somewhere between
 * two samples, and oil and motor answer at moments of their own: each by chance, edge by edge. A meter that lags
 * behind the pressures meets each edge's new pressure with the flow from before it: the same at every edge of a log,
 * so it does not average out. Nor does the time in which a vent opens, where no meter tells oil over the relief from oil
 * that unloads; nor, with a logger that shows means over its interval, the sample on the way to or from a vented pump;
 * nor what passes a vent while it shuts, where no meter tells it from the load's.
 */
export function edgeCovariance(
  steps: readonly Step[],
  energiesJ: Float64Array,
  sampleIntervalS: number,
  sensors: Sensors,
): Matrix {
  const sums = edgeSums()
  const sampledJ = new Float64Array(WIDTH)
  const answeredJ = new Float64Array(WIDTH)
  const metered = new Set(meteredKeys(sensors).map((key) => AT[key]))
  const isMetered = Uint8Array.from({ length: W }, (_, key) => (metered.has(key) ? 1 : 0))
  const meteredOil = OF_OIL.filter((key) => metered.has(AT[key])).map((key) => AT[key])
  const loadIsMetered = metered.has(AT.work)
  const tankIsMetered = loadIsMetered || metered.has(AT.unloading)
  const lateFlow = new Float64Array(TOTALS_LENGTH)
  const latePower = new Float64Array(TOTALS_LENGTH)
  const before = new Float64Array(W)
  const after = new Float64Array(W)
  const slowVent = new Float64Array(TOTALS_LENGTH)
  const meanVent = new Float64Array(TOTALS_LENGTH)
  const shutting = new Float64Array(TOTALS_LENGTH)
  const sampledS = EDGE_INTERVALS * sampleIntervalS
  const onWayS = ON_WAY_INTERVALS * sampleIntervalS * Math.min(1, sampleIntervalS / MEANS_FROM_S)
  const meanW = (step: number, into: Float64Array) => {
    const { durationS } = steps[step]
    for (let key = 0; key < W; key++) {
      const power = durationS > 0 ? energiesJ[step * W + key] / durationS : 0
      into[key] = Number.isNaN(power) ? 0 : power
    }
  }
  const late = (place: number, last: Step, next: Step) => {
    const rises = ratio(next.means.pumpPressurePa, last.means.pumpPressurePa)
    let oilW = 0
    for (const key of meteredOil) {
      const shift = rises * before[key] - after[key]
      lateFlow[place + key] += shift
      oilW += shift
    }
    if (loadIsMetered) {
      const loadRises = ratio(next.means.loadPressurePa, last.means.loadPressurePa)
      const shift = loadRises * before[AT.work] - after[AT.work]
      lateFlow[place + AT.work] += shift
      lateFlow[place + AT.metering] += rises * before[AT.intoSystem] - after[AT.intoSystem] - shift
    }
    lateFlow[place + AT.pumpLoss] -= oilW
    const inputW = before[AT.electricIn] - after[AT.electricIn]
    const motorW = before[AT.motorLoss] - after[AT.motorLoss]
    latePower[place + AT.electricIn] += inputW
    latePower[place + AT.motorLoss] += motorW
    latePower[place + AT.pumpLoss] += inputW - motorW
  }
  for (let k = 1; k < steps.length; k++) {
    if (steps[k].afterGap) continue
    meanW(k - 1, before)
    meanW(k, after)
    for (let key = 0; key < W; key++) {
      const bookedW = (before[key] + after[key]) / 2
      sampledJ[key] = sampledS * before[key]
      sampledJ[W + key] = -sampledS * after[key]
      answeredJ[key] = ANSWER_S * (isMetered[key] ? bookedW : before[key])
      answeredJ[W + key] = -ANSWER_S * (isMetered[key] ? bookedW : after[key])
    }
    const second = KIND_AT[steps[k].kind]
    sums.add(KIND_AT[steps[k - 1].kind], second, sampledJ, answeredJ)
    late(second * W, steps[k - 1], steps[k])
    if (steps[k].kind === 'idle-unloaded' && steps[k - 1].kind !== 'idle-unloaded') {
      const first = KIND_AT[steps[k - 1].kind]
      for (const shifts of tankIsMetered ? [meanVent] : [slowVent, meanVent]) {
        shifts[first * W + AT.overRelief] -= before[AT.overRelief]
        shifts[second * W + AT.unloading] += before[AT.overRelief]
      }
    } else if (steps[k - 1].kind === 'idle-unloaded' && steps[k].kind !== 'idle-unloaded') {
      const oilW = after[AT.overRelief] + after[AT.intoSystem]
      meanVent[KIND_AT['idle-unloaded'] * W + AT.unloading] += oilW
      meanVent[second * W + AT.pumpLoss] -= oilW
      if (!loadIsMetered) {
        for (const key of [AT.intoSystem, AT.metering, AT.work]) shutting[second * W + key] -= after[key]
        shutting[second * W + AT.overRelief] += after[AT.intoSystem]
      }
    }
  }
  const covariance = new Float64Array(TOTALS_LENGTH * TOTALS_LENGTH)
  sums.spread(covariance)
  const systematic = [
    { seconds: LAG_S, shifts: lateFlow },
    { seconds: LAG_S, shifts: latePower },
    { seconds: VENT_S, shifts: slowVent },
    { seconds: onWayS, shifts: meanVent },
    { seconds: VENT_SHUTS_S, shifts: shutting },
  ]
  for (const { seconds, shifts } of systematic) {
    for (let a = 0; a < TOTALS_LENGTH; a++) {
      if (shifts[a] === 0) continue
      for (let b = 0; b < TOTALS_LENGTH; b++) {
        covariance[a * TOTALS_LENGTH + b] += seconds ** 2 * shifts[a] * shifts[b]
      }
    }
  }
  return Matrix.from1DArray(TOTALS_LENGTH, TOTALS_LENGTH, Array.from(covariance))
}

/** Most that a pressure rises over the step before, as a factor: from next to nothing any rise is endless. */
const MOST_RISE = 3

/** One pressure over another; 1 where either is not known. */
function ratio(overPa: number, underPa: number): number {
  const of = underPa > 0 ? Math.max(0, overPa) / underPa : MOST_RISE
  return Number.isNaN(of) ? 1 : Math.min(of, MOST_RISE)
}
