import { noiseSd } from '@/lib/numeric/noise'
import { signalQuantiles } from '@/lib/numeric/quantile'
import { readerOf, type SampleReader } from '@/lib/samples/samples'
import type { Sensor, Sensors } from '@/lib/samples/sensors'
import type { Trace } from '@/lib/samples/trace'
import { type Blocks, blocksOf } from './blocks'
import { changePoints } from './change-points'
import { lagOf, pressureJumps, type SlowSensor, withoutLag } from './slow-sensors'
import {
  loadReader,
  MEAN_NAMES,
  MEAN_OF,
  peakOf,
  type Stretch,
  type StretchMeans,
  type Sums,
  sumsOf,
} from './stretch'
import { type StretchColumns, stretchesOf } from './stretch-columns'

export interface SteadyStretches {
  readonly stretches: readonly Stretch[]
  /** What the stretches are rows of. */
  readonly columns: StretchColumns
  readonly slow: readonly SlowSensor[]
  /** Standard error of a stretch's mean pump pressure by noise alone, Pa. */
  pressureErrorPa(stretch: Stretch): number
}

/** Noise is never taken below this share of a signal's range: quantised and simulated signals have steps of their own. */
const LEAST_NOISE_SHARE = 0.002

type MeanName = keyof StretchMeans

interface Watched {
  readonly name: MeanName
  readonly sensor: Sensor
  readonly range: number
  /** Means over the blocks, and the standard deviation of their noise. */
  readonly values: SampleReader
  readonly sd: number
}

function watch(name: MeanName, sensor: Sensor | null, blocks: Blocks): Watched[] {
  if (!sensor) return []
  const values = blocks.means(readerOf(sensor.values))
  const [lowest, highest] = signalQuantiles(values, [0.001, 0.999])
  const range = highest - lowest
  if (!(range > 0)) return []
  return [{ name, sensor, range, values, sd: Math.max(noiseSd(values), LEAST_NOISE_SHARE * range) }]
}

/** Levels nearer than this many standard errors in every channel are one: an excursion of noise is no change. */
const SIGNIFICANT = 5

type SumsOfAll = Partial<Record<MeanName, Sums>>

/**
 * Joins stretches between which no channel's mean changes by more than noise can. Starts and sums are
 * joined in place; returns how many stretches remain.
 */
function joinAlike(
  starts: Int32Array,
  sums: SumsOfAll,
  watched: readonly Watched[],
  breaks: Uint8Array,
  blockS: number,
): number {
  const all = Object.values(sums)
  const judged = watched.flatMap(({ name, sd }) => {
    const of = sums[name]
    return of ? [{ ...of, variance: blockS * (SIGNIFICANT * sd) ** 2 }] : []
  })
  let kept = 0
  for (let k = 0; k < starts.length; k++) {
    let changes = k === 0 || breaks[starts[k]] === 1
    for (let c = 0; c < judged.length && !changes; c++) {
      const { valueS, seconds, variance } = judged[c]
      const [old, now] = [seconds[kept - 1], seconds[k]]
      if (old === 0 && now === 0) continue
      const step = valueS[k] / now - valueS[kept - 1] / old
      changes = !(step * step < variance * (1 / old + 1 / now))
    }
    const into = changes ? kept++ : kept - 1
    for (const { valueS, seconds } of all) {
      valueS[into] = changes ? valueS[k] : valueS[into] + valueS[k]
      seconds[into] = changes ? seconds[k] : seconds[into] + seconds[k]
    }
    if (changes) starts[into] = starts[k]
  }
  return kept
}

/** Meters that may lag behind the pressure. */
const MAY_LAG: ReadonlySet<MeanName> = new Set([
  'pumpFlowM3S',
  'systemFlowM3S',
  'returnFlowM3S',
  'currentA',
  'powerW',
])

/** Freed of its lag over less than the lag itself, input is too rough to tell a stop: there it tells nothing. */
const TELLS_A_STOP: ReadonlySet<MeanName> = new Set(['currentA', 'powerW'])

/** Mean readings of a sensor over the stretches, freed of its lag. */
function meansOf(
  { valueS, seconds }: Sums,
  stretches: readonly Omit<Stretch, 'means' | 'peakLoadPa'>[],
  name: MeanName,
  sensor: Sensor,
  lag: SlowSensor | undefined,
  sampleIntervalS: number,
): Float64Array {
  const means = new Float64Array(stretches.length)
  for (let k = 0; k < means.length; k++) means[k] = seconds[k] > 0 ? valueS[k] / seconds[k] : Number.NaN
  if (!lag) return means
  const { timeConstantS } = lag
  stretches.forEach((stretch, k) => {
    const isTooShort = TELLS_A_STOP.has(name) && stretch.durationS < timeConstantS
    means[k] = isTooShort ? Number.NaN : withoutLag(sensor, stretch, means[k], timeConstantS, sampleIntervalS)
  })
  return means
}

function findLags(watched: readonly Watched[], starts: Int32Array, sampleIntervalS: number) {
  const lags = new Map<MeanName, SlowSensor>()
  const pressure = watched.find(({ name }) => name === 'pumpPressurePa')
  if (!pressure) return lags
  const pressurePa = readerOf(pressure.sensor.values)
  const jumps = pressureJumps(pressurePa, starts, pressure.range, sampleIntervalS)
  for (const { name, sensor, range } of watched) {
    if (!MAY_LAG.has(name)) continue
    const timeConstantS = lagOf(readerOf(sensor.values), range, pressurePa, jumps, sampleIntervalS)
    if (timeConstantS !== null) lags.set(name, { column: sensor.column, timeConstantS })
  }
  return lags
}

type OwnColumns = { -readonly [Name in keyof StretchColumns]: StretchColumns[Name] }

/** Columns for the stretches that begin at the samples `starts` and end at the next or at `count`, nothing read of them yet. */
function columnsAt(
  starts: Int32Array,
  count: number,
  holdS: SampleReader,
  breaks: Uint8Array,
  load: SampleReader | null,
): OwnColumns {
  const edges = new Int32Array(starts.length + 1)
  edges.set(starts)
  edges[starts.length] = count
  const [from, to] = [edges.subarray(0, starts.length), edges.subarray(1)]
  const durationS = new Float64Array(starts.length)
  const afterGap = new Uint8Array(starts.length)
  const peakLoadPa = new Float64Array(starts.length)
  for (let k = 0; k < starts.length; k++) {
    let seconds = 0
    for (let i = from[k]; i < to[k]; i++) seconds += holdS.at(i)
    durationS[k] = seconds
    afterGap[k] = from[k] === 0 || breaks[from[k]] === 1 ? 1 : 0
    peakLoadPa[k] = peakOf(load, from[k], to[k])
  }
  // One for all readings without a sensor.
  const silent = new Float64Array(starts.length).fill(Number.NaN)
  const means = Object.fromEntries(MEAN_NAMES.map((name) => [name, silent]))
  return { from, to, durationS, afterGap, peakLoadPa, ...(means as Record<MeanName, Float64Array>) }
}

/**
 * Cuts a trace into stretches with steady readings; none spans a gap. Meters that lag behind the pressure
 * begin none, and their means are freed of the lag.
 */
export function steadyStretches(sensors: Sensors, trace: Trace): SteadyStretches {
  const { count } = sensors
  const { sampleIntervalS } = trace
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  const breaks = new Uint8Array(count)
  for (let i = 1; i < count; i++) if (timeS.at(i) - timeS.at(i - 1) > holdS.at(i - 1) + 1e-6) breaks[i] = 1
  const blocks = blocksOf(breaks, sampleIntervalS)
  const watched = MEAN_NAMES.filter((name) => name !== 'currentA' || !sensors.power).flatMap((name) =>
    watch(name, sensors[MEAN_OF[name]], blocks),
  )
  const startsOf = (channels: readonly Watched[]) =>
    changePoints(channels, blocks.breaks).map((block) => blocks.from(block))
  const first = startsOf(watched)
  const lags = findLags(watched, first, sampleIntervalS)
  const quick = watched.filter(({ name }) => !lags.has(name))
  const starts = lags.size > 0 ? startsOf(quick) : first
  const sums: SumsOfAll = {}
  for (const name of MEAN_NAMES) {
    const sensor = sensors[MEAN_OF[name]]
    if (sensor) sums[name] = sumsOf(sensor.values, trace.holdS, starts, count)
  }
  const kept = joinAlike(starts, sums, quick, breaks, blocks.size * sampleIntervalS)
  const columns = columnsAt(starts.subarray(0, kept), count, holdS, breaks, loadReader(sensors))
  const stretches = stretchesOf(columns)
  for (const name of MEAN_NAMES) {
    const of = sums[name]
    const sensor = sensors[MEAN_OF[name]]
    if (of && sensor) columns[name] = meansOf(of, stretches, name, sensor, lags.get(name), sampleIntervalS)
  }
  const pressureSd = quick.find(({ name }) => name === 'pumpPressurePa')?.sd ?? 0
  const blockS = blocks.size * sampleIntervalS
  return {
    stretches,
    columns,
    slow: [...lags.values()],
    pressureErrorPa: (stretch) => pressureSd / Math.sqrt(Math.max(1, stretch.durationS / blockS)),
  }
}
