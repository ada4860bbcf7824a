import type { PhaseKind } from '@/lib/contract/result'
import type { Sensor, Sensors } from '@/lib/samples/sensors'
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

function meanOf(sensor: Sensor | null, holdS: Float64Array, from: number, to: number): number {
  if (!sensor) return Number.NaN
  let sum = 0
  let weight = 0
  for (let i = from; i < to; i++) {
    const value = sensor.values[i]
    if (Number.isNaN(value)) continue
    sum += value * holdS[i]
    weight += holdS[i]
  }
  return weight > 0 ? sum / weight : Number.NaN
}

/** Samples over which a peak is averaged, so that noise makes none. */
const PEAK_SAMPLES = 5

function peakOf(sensor: Sensor | null, from: number, to: number): number {
  if (!sensor) return Number.NaN
  let peak = Number.NaN
  for (let start = from; start < to; start += PEAK_SAMPLES) {
    // The last few samples are averaged with those before them.
    const first = Math.max(from, Math.min(start, to - PEAK_SAMPLES))
    const end = Math.min(to, first + PEAK_SAMPLES)
    let sum = 0
    for (let i = first; i < end; i++) sum += sensor.values[i]
    const mean = sum / (end - first)
    if (!(peak >= mean)) peak = Number.isNaN(mean) ? peak : mean
  }
  return peak
}

/** The stretch of samples [from, to) with its duration and mean readings. */
export function stretchOf(
  sensors: Sensors,
  trace: Pick<Trace, 'holdS'>,
  from: number,
  to: number,
  afterGap: boolean,
): Stretch {
  const mean = (sensor: Sensor | null) => meanOf(sensor, trace.holdS, from, to)
  let durationS = 0
  for (let i = from; i < to; i++) durationS += trace.holdS[i]
  return {
    from,
    to,
    durationS,
    afterGap,
    peakLoadPa: peakOf(sensors.loadPressure, from, to),
    means: {
      pumpPressurePa: mean(sensors.pumpPressure),
      loadPressurePa: mean(sensors.loadPressure),
      pumpFlowM3S: mean(sensors.pumpFlow),
      systemFlowM3S: mean(sensors.systemFlow),
      returnFlowM3S: mean(sensors.returnFlow),
      caseDrainM3S: mean(sensors.caseDrain),
      currentA: mean(sensors.current),
      powerW: mean(sensors.power),
      voltageV: mean(sensors.voltage),
      speedRadS: mean(sensors.speed),
      cycleActive: mean(sensors.cycleActive),
      idleSignal: mean(sensors.idleSignal),
      solenoid: mean(sensors.solenoid),
    },
  }
}
