import type { PhaseKind } from '@/lib/contract/result'
import { READ_AT_ONCE, readerOf, type SampleReader, type Samples } from '@/lib/samples/samples'
import type { Sensors } from '@/lib/samples/sensors'
import type { Trace } from '@/lib/samples/trace'

/** Mean readings over a stretch with steady readings, SI; NaN where the sensor is not fitted or silent. */
export interface StretchMeans {
  readonly pumpPressurePa: number
  readonly loadPressurePa: number
  readonly pumpFlowM3S: number
  readonly systemFlowM3S: number
  readonly returnFlowM3S: number
  readonly caseDrainM3S: number
  readonly currentA: number
  readonly powerW: number
  readonly voltageV: number
  readonly speedRadS: number
  /** State of the pumps that unload by the line's pressure (pump.ts, PumpLatch); NaN where there are none. */
  readonly pumpState: number
  readonly cycleActive: number
  readonly idleSignal: number
  readonly solenoid: number
}

/** Samples [from, to) with steady readings. */
export interface Stretch {
  readonly from: number
  readonly to: number
  readonly durationS: number
  /** True where the sample before `from` lies beyond a gap, or there is none. */
  readonly afterGap: boolean
  readonly means: StretchMeans
  /** Highest load pressure over a few samples, Pa; NaN without a load pressure sensor. */
  readonly peakLoadPa: number
}

/** A steady stretch with the phase kind it belongs to. Within one phase, stretches are its steps. */
export interface Step extends Stretch {
  readonly kind: PhaseKind
}

/** Which sensor gives which mean. */
export const MEAN_OF = {
  pumpPressurePa: 'pumpPressure',
  loadPressurePa: 'loadPressure',
  pumpFlowM3S: 'pumpFlow',
  systemFlowM3S: 'systemFlow',
  returnFlowM3S: 'returnFlow',
  caseDrainM3S: 'caseDrain',
  currentA: 'current',
  powerW: 'power',
  voltageV: 'voltage',
  speedRadS: 'speed',
  pumpState: 'pumpState',
  cycleActive: 'cycleActive',
  idleSignal: 'idleSignal',
  solenoid: 'solenoid',
} as const satisfies Record<keyof StretchMeans, keyof Sensors>

export const MEAN_NAMES = Object.keys(MEAN_OF) as (keyof StretchMeans)[]

/** The readings that stretches have; the others are NaN in all of them. */
export const fittedMeans = (sensors: Sensors): readonly (keyof StretchMeans)[] =>
  MEAN_NAMES.filter((name) => sensors[MEAN_OF[name]] !== null)

/** Mean readings as `mean` gives them by their names and places in MEAN_NAMES. */
export const meansBy = (mean: (name: keyof StretchMeans, index: number) => number): StretchMeans =>
  Object.fromEntries(MEAN_NAMES.map((name, k) => [name, mean(name, k)])) as unknown as StretchMeans

/** Sums of a channel over stretches: value times seconds, and the seconds in which it was not silent. */
export interface Sums {
  readonly valueS: Float64Array
  readonly seconds: Float64Array
}

/** Sums over the stretches that begin at the samples `starts` and end at the next or at `end`: one pass. */
export function sumsOf(values: Samples, holdS: Samples, starts: ArrayLike<number>, end: number): Sums {
  const valueS = new Float64Array(starts.length)
  const seconds = new Float64Array(starts.length)
  const [readings, holds] = [readerOf(values), readerOf(holdS)]
  const endOf = (k: number) => (k + 1 < starts.length ? starts[k + 1] : end)
  let k = 0
  for (let from = starts[0]; from < end; from += READ_AT_ONCE) {
    const to = Math.min(from + READ_AT_ONCE, end)
    const block = readings.between(from, to)
    const held = holds.between(from, to)
    // What is summed of a stretch that goes on beyond the block goes on in the next.
    for (let i = from; i < to; ) {
      while (endOf(k) <= i) k++
      const last = Math.min(endOf(k), to)
      let sum = valueS[k]
      let time = seconds[k]
      for (; i < last; i++) {
        const value = block[i - from]
        if (Number.isNaN(value)) continue
        const hold = held[i - from]
        sum += value * hold
        time += hold
      }
      valueS[k] = sum
      seconds[k] = time
    }
  }
  return { valueS, seconds }
}

/** Samples over which a peak is averaged, so that noise makes none. */
const PEAK_SAMPLES = 5

/** Highest load pressure over a few of the samples [from, to), Pa; NaN without a sensor. */
export function peakOf(values: SampleReader | null, from: number, to: number): number {
  if (!values) return Number.NaN
  let peak = Number.NaN
  for (let start = from; start < to; start += PEAK_SAMPLES) {
    // The last few samples are averaged with those before them.
    const first = Math.max(from, Math.min(start, to - PEAK_SAMPLES))
    const end = Math.min(to, first + PEAK_SAMPLES)
    let sum = 0
    for (let i = first; i < end; i++) sum += values.at(i)
    const mean = sum / (end - first)
    if (!(peak >= mean)) peak = Number.isNaN(mean) ? peak : mean
  }
  return peak
}

/** Readings of the load pressure, null where none is fitted. */
export const loadReader = ({ loadPressure }: Sensors): SampleReader | null =>
  loadPressure && readerOf(loadPressure.values)

/** The stretch of samples [from, to) with its duration and mean readings. */
export function stretchOf(
  sensors: Sensors,
  trace: Pick<Trace, 'holdS'>,
  from: number,
  to: number,
  afterGap: boolean,
): Stretch {
  const holdS = readerOf(trace.holdS)
  let durationS = 0
  for (let i = from; i < to; i++) durationS += holdS.at(i)
  const means = meansBy((name) => {
    const sensor = sensors[MEAN_OF[name]]
    if (sensor === null) return Number.NaN
    const { valueS, seconds } = sumsOf(sensor.values, trace.holdS, [from], to)
    return seconds[0] > 0 ? valueS[0] / seconds[0] : Number.NaN
  })
  return { from, to, durationS, afterGap, means, peakLoadPa: peakOf(loadReader(sensors), from, to) }
}
