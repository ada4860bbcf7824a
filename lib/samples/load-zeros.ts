import { noiseSd } from '@/lib/numeric/noise'
import { quantile } from '@/lib/numeric/quantile'
import { readerOf } from './samples'
import type { Sensor } from './sensors'

/** What one of several load sensors shows at rest against the others, Pa. */
export interface LoadZero {
  readonly column: string
  /** Reading without load; NaN where the log shows no rest of this sensor with others. */
  readonly restPa: number
  /** Taken off its readings: what brings it to the zero that all of them share. */
  readonly offsetPa: number
  /** False where it reads more at rest than an offset can be: it was left as it is. */
  readonly isOffset: boolean
  /** 95 % limit of its constant offset, Pa. */
  readonly limitPa: number
}

/** With the pump's pressure this near nil, in limits of its sensor, nothing drives a load. */
const PUMP_REST_LIMITS = 2
/** A rest reading beyond this many limits is a pressure and no offset; where no rest of the pump was seen, beyond one. */
const OFFSET_LIMITS = 2
const OFFSET_LIMITS_UNDER_PRESSURE = 1
/** A sensor's floor: this low a share of its readings, and what noise, or the last digit, puts around it. */
const FLOOR_SHARE = 0.05
const FLOOR_NOISES = 4
const FLOOR_LIMIT_SHARE = 0.1
const LEAST_REST_SAMPLES = 10
const LEAST_REST_S = 1
/** Enough samples for a median, evenly spread. */
const MOST_SAMPLES = 20_000

const left = (sensor: Sensor): LoadZero => ({
  column: sensor.column,
  restPa: Number.NaN,
  offsetPa: 0,
  isOffset: true,
  limitPa: sensor.limit,
})

/** Samples at which the sensors are compared: those with the pump at rest, or all where it hardly ever is. */
function comparedSamples(
  { values: readings, limit }: Sensor,
  sampleIntervalS: number,
): { samples: number[]; isRest: boolean; eachS: number } {
  const values = readerOf(readings)
  const isLow = (i: number) => Math.abs(values.at(i)) <= PUMP_REST_LIMITS * limit
  let low = 0
  for (let i = 0; i < values.length; i++) if (isLow(i)) low++
  const isRest = low >= LEAST_REST_SAMPLES && low * sampleIntervalS >= LEAST_REST_S
  const stride = Math.max(1, Math.floor((isRest ? low : values.length) / MOST_SAMPLES))
  const samples: number[] = []
  for (let i = 0, met = 0; i < values.length; i++) {
    if ((!isRest || isLow(i)) && met++ % stride === 0) samples.push(i)
  }
  return { samples, isRest, eachS: stride * sampleIntervalS }
}

/**
 * What to take off each of several load sensors so that their readings share one zero. Each has an offset of its
 * own, constant over a log, and the highest of them is the load only where they agree on nil. Compared are
 * the samples at which the pump is at rest (else, and with half the trust, all) and every sensor lies on its own
 * floor within its noise: a load that a check valve still holds, or that dies away, is above it. The median there
 * is the sensor's rest reading. A pressure that all share, such as that of the tank line, says nothing of their
 * differences: their mean, weighed by accuracy, stays in, for the reconciliation to judge as one offset.
 * A sensor that rests beyond what an offset can be has a load on it, and is left and reported.
 */
export function loadZeros(
  loads: readonly Sensor[],
  pump: Sensor,
  { sampleIntervalS }: { readonly sampleIntervalS: number },
): LoadZero[] {
  if (loads.length < 2) return []
  const { samples, isRest, eachS } = comparedSamples(pump, sampleIntervalS)
  const mostLimits = isRest ? OFFSET_LIMITS : OFFSET_LIMITS_UNDER_PRESSURE
  const readers = loads.map(({ values }) => readerOf(values))
  const floors = readers.map((values) => {
    const present = samples.map((i) => values.at(i)).filter((value) => !Number.isNaN(value))
    return present.length < LEAST_REST_SAMPLES ? Number.NaN : quantile(present, FLOOR_SHARE)
  })
  const joins = loads.map(({ limit }, k) => Math.abs(floors[k]) <= mostLimits * limit)
  const tops = loads.map(
    ({ values, limit }, k) =>
      floors[k] + Math.max(FLOOR_NOISES * noiseSd(readerOf(values)), FLOOR_LIMIT_SHARE * limit),
  )
  const resting = samples.filter((i) => readers.every((values, k) => !joins[k] || values.at(i) <= tops[k]))
  const isSeen = resting.length >= LEAST_REST_SAMPLES && resting.length * eachS >= LEAST_REST_S
  if (!isSeen || joins.filter(Boolean).length < 2) {
    return loads.map((sensor, k) =>
      isRest && floors[k] > mostLimits * sensor.limit
        ? { ...left(sensor), restPa: floors[k], isOffset: false }
        : left(sensor),
    )
  }
  const rests = readers.map((values, k) =>
    joins[k]
      ? quantile(
          resting.map((i) => values.at(i)),
          0.5,
        )
      : floors[k],
  )
  let sum = 0
  let weights = 0
  loads.forEach(({ limit }, k) => {
    if (!joins[k]) return
    const weight = 1 / (limit * limit + Number.MIN_VALUE)
    sum += weight * rests[k]
    weights += weight
  })
  return loads.map((sensor, k) => {
    if (joins[k]) return { ...left(sensor), restPa: rests[k], offsetPa: rests[k] - sum / weights }
    return Number.isNaN(floors[k]) || !isRest
      ? left(sensor)
      : { ...left(sensor), restPa: rests[k], isOffset: false }
  })
}
