import { Matrix } from 'ml-matrix'
import type { Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import { ACCOUNT_KEYS } from './account-series'
import type { Streams } from './operating-point'
import { kindIndex, TOTALS_LENGTH } from './totals'

/** Where between two samples a step really began, as a share of the interval (1 sd; a uniform one's is 1/√12). */
const EDGE_INTERVALS = 0.29
/** Oil and motor answer a valve this much sooner or later than the step begins, s (1 sd; common practice, no source). */
const ANSWER_S = 0.05
/** Flow and power meters lag behind the pressures by about this much, all along a log, s (1 sd; common practice, no source). */
const LAG_S = 0.04

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
const AT = Object.fromEntries(ACCOUNT_KEYS.map((key, k) => [key, k])) as Record<Key, number>

/**
 * Covariance of the totals that comes from the edges of steps, TOTALS_LENGTH squared, J². An edge lies somewhere between
 * two samples, and oil and motor answer at moments of their own: each by chance, edge by edge. A meter that lags
 * behind the pressures meets each edge's new pressure with the flow from before it: the same at every edge of a log,
 * so it does not average out.
 */
export function edgeCovariance(
  steps: readonly Step[],
  energiesJ: Float64Array,
  sampleIntervalS: number,
  sensors: Sensors,
): Matrix {
  const sums = new Float64Array(TOTALS_LENGTH * TOTALS_LENGTH)
  const places = new Int32Array(2 * W)
  const sampled = new Float64Array(2 * W)
  const answered = new Float64Array(2 * W)
  const metered = new Set(meteredKeys(sensors).map((key) => AT[key]))
  const lateFlow = new Float64Array(TOTALS_LENGTH)
  const latePower = new Float64Array(TOTALS_LENGTH)
  const before = new Float64Array(W)
  const after = new Float64Array(W)
  const meanW = (step: number, into: Float64Array) => {
    const { durationS } = steps[step]
    for (let key = 0; key < W; key++) {
      const power = durationS > 0 ? energiesJ[step * W + key] / durationS : 0
      into[key] = Number.isNaN(power) ? 0 : power
    }
  }
  const add = (varianceS2: number, watts: Float64Array) => {
    for (let a = 0; a < places.length; a++) {
      if (watts[a] === 0) continue
      const row = places[a] * TOTALS_LENGTH
      for (let b = 0; b < places.length; b++) sums[row + places[b]] += varianceS2 * watts[a] * watts[b]
    }
  }
  const late = (place: number, last: Step, next: Step) => {
    const rises = ratio(next.means.pumpPressurePa, last.means.pumpPressurePa)
    let oilW = 0
    for (const key of OF_OIL) {
      if (!metered.has(AT[key])) continue
      const shift = rises * before[AT[key]] - after[AT[key]]
      lateFlow[place + AT[key]] += shift
      oilW += shift
    }
    if (metered.has(AT.work)) {
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
    const first = kindIndex(steps[k - 1].kind, ACCOUNT_KEYS[0])
    const second = kindIndex(steps[k].kind, ACCOUNT_KEYS[0])
    meanW(k - 1, before)
    meanW(k, after)
    for (let key = 0; key < W; key++) {
      const bookedW = metered.has(key) ? (before[key] + after[key]) / 2 : Number.NaN
      places[key] = first + key
      places[W + key] = second + key
      sampled[key] = before[key]
      sampled[W + key] = -after[key]
      answered[key] = Number.isNaN(bookedW) ? before[key] : bookedW
      answered[W + key] = Number.isNaN(bookedW) ? -after[key] : -bookedW
    }
    add((EDGE_INTERVALS * sampleIntervalS) ** 2, sampled)
    add(ANSWER_S ** 2, answered)
    late(second, steps[k - 1], steps[k])
  }
  for (const shifts of [lateFlow, latePower]) {
    for (let a = 0; a < TOTALS_LENGTH; a++) {
      if (shifts[a] === 0) continue
      for (let b = 0; b < TOTALS_LENGTH; b++) {
        sums[a * TOTALS_LENGTH + b] += LAG_S ** 2 * shifts[a] * shifts[b]
      }
    }
  }
  return Matrix.from1DArray(TOTALS_LENGTH, TOTALS_LENGTH, Array.from(sums))
}

/** Most that a pressure rises over the step before, as a factor: from next to nothing any rise is endless. */
const MOST_RISE = 3

/** One pressure over another; 1 where either is not known. */
function ratio(overPa: number, underPa: number): number {
  const of = underPa > 0 ? Math.max(0, overPa) / underPa : MOST_RISE
  return Number.isNaN(of) ? 1 : Math.min(of, MOST_RISE)
}
