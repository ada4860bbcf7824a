import { noiseSd } from '@/lib/numeric/noise'
import { quantile } from '@/lib/numeric/quantile'
import type { Sensor, Sensors } from '@/lib/samples/sensors'
import type { Trace } from '@/lib/samples/trace'
import { changePoints, type WatchedChannel } from './change-points'
import { type Stretch, stretchOf } from './stretch'

/** Noise is never taken below this share of a signal's range: quantised and simulated signals have steps of their own. */
const LEAST_NOISE_SHARE = 0.002
const RANGE_SAMPLES = 20_000

function watch(sensor: Sensor | null): WatchedChannel[] {
  if (!sensor) return []
  const stride = Math.max(1, Math.floor(sensor.values.length / RANGE_SAMPLES))
  const present = sensor.values.filter((value, i) => i % stride === 0 && !Number.isNaN(value))
  if (present.length === 0) return []
  const range = quantile(present, 0.999) - quantile(present, 0.001)
  if (!(range > 0)) return []
  return [{ values: sensor.values, sd: Math.max(noiseSd(sensor.values), LEAST_NOISE_SHARE * range) }]
}

/** Levels nearer than this many standard errors in every channel are one: an excursion of noise is no change. */
const SIGNIFICANT = 5

function meanBetween(values: Float64Array, from: number, to: number): { mean: number; count: number } {
  let sum = 0
  let count = 0
  for (let i = from; i < to; i++) {
    if (Number.isNaN(values[i])) continue
    sum += values[i]
    count++
  }
  return { mean: sum / count, count }
}

/** Starts without those where no channel's mean changes by more than noise can. */
function dropInsignificant(
  starts: Int32Array,
  watched: readonly WatchedChannel[],
  breaks: Uint8Array,
): number[] {
  const kept: number[] = []
  let before: { mean: number; count: number }[] = []
  for (let k = 0; k < starts.length; k++) {
    const from = starts[k]
    const to = k + 1 < starts.length ? starts[k + 1] : breaks.length
    const here = watched.map(({ values }) => meanBetween(values, from, to))
    const changes = watched.some(({ sd }, c) => {
      const error = sd * Math.sqrt(1 / before[c]?.count + 1 / here[c].count)
      return !(Math.abs(here[c].mean - before[c]?.mean) < SIGNIFICANT * error)
    })
    if (k === 0 || breaks[from] || changes) {
      kept.push(from)
      before = here
    } else {
      before = before.map((old, c) => {
        const count = old.count + here[c].count
        return { mean: (old.mean * old.count + here[c].mean * here[c].count) / count, count }
      })
    }
  }
  return kept
}

/** Cuts a trace into stretches with steady readings; none spans a gap. */
export function steadyStretches(sensors: Sensors, trace: Trace): Stretch[] {
  const count = sensors.count
  const breaks = new Uint8Array(count)
  for (let i = 1; i < count; i++) {
    if (trace.timeS[i] - trace.timeS[i - 1] > trace.holdS[i - 1] + 1e-6) breaks[i] = 1
  }
  const watched = [
    sensors.pumpPressure,
    sensors.loadPressure,
    sensors.pumpFlow,
    sensors.systemFlow,
    sensors.returnFlow,
    sensors.power ?? sensors.current,
    sensors.cycleActive,
    sensors.idleSignal,
  ].flatMap(watch)
  const starts = dropInsignificant(changePoints(watched, breaks), watched, breaks)
  return Array.from(starts, (from, k) =>
    stretchOf(
      sensors,
      trace,
      from,
      k + 1 < starts.length ? starts[k + 1] : count,
      from === 0 || breaks[from] === 1,
    ),
  )
}
