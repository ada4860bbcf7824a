import { normal, seededRandom } from '@/lib/numeric/random'
import { siOf, type Unit } from '@/lib/units'
import type { MachineSpec, Sensor, Signal, Visit } from './spec'

/** What the logger wrote: NaN where a cell was lost. */
export interface Recording {
  /** Elapsed seconds of each row. */
  readonly timeS: Float64Array
  readonly columns: ReadonlyArray<{ readonly sensor: Sensor; readonly values: Float64Array }>
}

const OIL_DIAL_UNIT: Unit = '°C'
/** Clamps and meters follow an inrush far past their nominal range; transmitters stop at theirs. */
const OVERRANGE: Readonly<Partial<Record<Signal, number>>> = { currentA: 10, powerW: 10 }
/** A broken loop of 4–20 mA reads down to this share of the span. */
const NO_LOOP_SHARE = -0.25
/** Slow drift over a log as a share of the offset's limit. */
const DRIFT_SHARE = 0.15

/** A signal after a first-order lag of this many samples. */
function lagging(values: Float64Array, samples: number): Float64Array {
  if (samples === 0) return values
  const gain = 1 - Math.exp(-1 / samples)
  let shown = values[0]
  return values.map((value) => {
    shown += gain * (value - shown)
    return shown
  })
}

/**
 * Reads the true values as the fitted sensors do: a constant offset a log (95 % within the accuracy),
 * a slow drift, a lag, noise, saturation at full scale, rounding, lost cells, spikes, a stretch in which it is
 * stuck; rows inside gaps are missing.
 */
export function record(
  spec: MachineSpec,
  visit: Visit,
  truth: Readonly<Record<Signal, Float64Array>>,
  offsetOf: (sensor: Sensor) => number | null = () => null,
): Recording {
  const random = seededRandom(visit.seed ^ 0x5e4504)
  const lasting = visit.sensorSeed === undefined ? null : seededRandom(visit.sensorSeed)
  const count = truth.pumpPressurePa.length
  const kept: number[] = []
  const gaps = visit.gaps ?? []
  for (let k = 0; k < count; k += 1) {
    const timeS = k / visit.rateHz
    if (!gaps.some((gap) => timeS >= gap.startS - 1e-9 && timeS < gap.endS - 1e-9)) kept.push(k)
  }
  const columns = spec.sensors.map((sensor) => {
    const { factor, offset: zero } = siOf(sensor.signal === 'oilC' ? OIL_DIAL_UNIT : sensor.unit)
    const limit = (sensor.offsetPercent / 100) * sensor.fullScale
    const offset = offsetOf(sensor) ?? (limit / 2) * normal(lasting ?? random)
    const usualDrift = limit * DRIFT_SHARE * (2 * random() - 1)
    const drift =
      sensor.driftPercent === undefined ? usualDrift : (sensor.driftPercent / 100) * sensor.fullScale
    const sigma = (sensor.noisePercent / 100) * sensor.fullScale
    const grid = 10 ** sensor.decimals
    const source = lagging(truth[sensor.signal], (sensor.lagS ?? 0) * visit.rateHz)
    const { startS, endS } = sensor.stuck ?? { startS: Number.POSITIVE_INFINITY, endS: 0 }
    const ceiling = sensor.fullScale * (OVERRANGE[sensor.signal] ?? 1.05)
    const values = new Float64Array(kept.length)
    kept.forEach((k, row) => {
      const value = (source[k] - zero) / factor
      let reading = value + offset + drift * (k / count - 0.5) + sigma * normal(random)
      const chance = random()
      if (chance < (visit.spikeShare ?? 0)) reading = sensor.fullScale * (0.9 + 0.1 * random())
      else if (chance > 1 - (visit.lostShare ?? 0)) reading = Number.NaN
      else if (chance < (visit.spikeShare ?? 0) + (visit.dropShare ?? 0)) {
        reading = sensor.fullScale * NO_LOOP_SHARE * random()
      }
      const timeS = k / visit.rateHz
      const isStuck = row > 0 && timeS >= startS && timeS < endS
      values[row] = isStuck ? values[row - 1] : Math.round(Math.min(reading, ceiling) * grid) / grid
    })
    return { sensor, values }
  })
  return { timeS: Float64Array.from(kept, (k) => k / visit.rateHz), columns }
}
