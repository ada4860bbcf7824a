import { noiseSd } from '@/lib/numeric/noise'
import { signalQuantiles } from '@/lib/numeric/quantile'
import type { Sensor } from './sensors'
import type { Trace } from './trace'

/** Readings of one sensor that were none, and so count as missing. */
export interface SensorFault {
  readonly code: 'sensor-spike' | 'sensor-stuck'
  readonly column: string
  /** Samples taken out. */
  readonly count: number
  /** From the first to the last of them, elapsed seconds. */
  readonly startS: number
  readonly endS: number
}

type Times = Pick<Trace, 'timeS' | 'holdS' | 'sampleIntervalS'>

/** A sensor with what its readings span and how far they jump by noise alone. */
interface Judged {
  readonly sensor: Sensor
  readonly low: number
  readonly high: number
  readonly jump: number
}

const STEP_SAMPLES = 20_000
const SPIKE_SD = 8
const SPIKE_RANGE_SHARE = 0.05
/** A reading on coarse steps flips to a neighbour for a sample without being a spike: beyond this many steps it is one. */
const SPIKE_STEPS = 3
/** Differences smaller than this share of the range are rounding of the conversion and no step. */
const LEAST_STEP_SHARE = 1e-6
/** The readings on both sides of a spike agree within this share of it. */
const BACK_SHARE = 0.3
/** Sampled faster than this, oil and motors do not go and come back within a sample; slower, another sensor must be quiet. */
const QUICK_S = 0.1

/** Smallest step between neighbouring readings: that of a coarse display or converter; tiny where there is none. */
function stepOf(values: Float64Array, range: number): number {
  const stride = Math.max(1, Math.floor(values.length / STEP_SAMPLES))
  const least = LEAST_STEP_SHARE * range
  let step = Number.POSITIVE_INFINITY
  for (let i = 1; i < values.length; i += stride) {
    const size = Math.abs(values[i] - values[i - 1])
    if (size > least && size < step) step = size
  }
  return Number.isFinite(step) ? step : 0
}

function judge(sensor: Sensor): Judged | null {
  const { values } = sensor
  const [low, high] = signalQuantiles(values, [0.01, 0.99])
  const noise = Math.max(SPIKE_SD * noiseSd(values), SPIKE_STEPS * stepOf(values, high - low))
  const jump = Math.max(noise, SPIKE_RANGE_SHARE * (high - low))
  return jump > 0 ? { sensor, low, high, jump } : null
}

/** Arrays that others hold, too. */
type Borrowed = ReadonlySet<Float64Array>

/** A sensor's values to write to: a copy of its own in the place of borrowed ones. */
function ownValues(sensor: Sensor, borrowed: Borrowed): Float64Array {
  if (borrowed.has(sensor.values)) sensor.values = sensor.values.slice()
  return sensor.values
}

/** Puts the reading before in the place of each single-sample spike. */
function dropSpikes(
  one: Judged,
  others: readonly Judged[],
  times: Times,
  borrowed: Borrowed,
): SensorFault | null {
  const { column } = one.sensor
  let { values } = one.sensor
  const { jump } = one
  const { timeS, holdS, sampleIntervalS } = times
  const quick = sampleIntervalS < QUICK_S
  const quiet = (i: number) =>
    others.length > 0 &&
    others.every(
      ({ sensor, jump: least }) =>
        Math.abs(sensor.values[i] - sensor.values[i - 1]) < least &&
        Math.abs(sensor.values[i + 1] - sensor.values[i - 1]) < least,
    )
  let count = 0
  let first = 0
  let last = 0
  for (let i = 1; i < values.length - 1; i++) {
    const up = values[i] - values[i - 1]
    const down = values[i] - values[i + 1]
    if (!((up > jump && down > jump) || (up < -jump && down < -jump))) continue
    if (!(Math.abs(up - down) < BACK_SHARE * Math.min(Math.abs(up), Math.abs(down)))) continue
    if (timeS[i + 1] - timeS[i - 1] > holdS[i - 1] + holdS[i] + 1e-6) continue
    if (!quick && !quiet(i)) continue
    if (count === 0) values = ownValues(one.sensor, borrowed)
    values[i] = values[i - 1]
    if (count === 0) first = i
    last = i
    count++
  }
  if (count === 0) return null
  return { code: 'sensor-spike', column, count, startS: timeS[first], endS: timeS[last] + sampleIntervalS }
}

/** A sensor is stuck that shows one and the same number this long, while others swing and it should have. */
const LEAST_STUCK_S = 20
const LEAST_STUCK_SAMPLES = 10
const LEAST_MISSED_SWINGS = 5

/** How often readings [from, to) go from the lower to the upper third of their range or back. */
function swings({ sensor: { values }, low, high }: Judged, from: number, to: number): number {
  const lower = low + (high - low) / 3
  const upper = high - (high - low) / 3
  let count = 0
  let side = 0
  for (let i = from; i < to; i++) {
    const now = values[i] > upper ? 1 : values[i] < lower ? -1 : side
    if (side !== 0 && now !== side) count++
    side = now
  }
  return count
}

/** Takes out long runs of one number while others move. */
function dropStuck(
  one: Judged,
  others: readonly Judged[],
  times: Times,
  borrowed: Borrowed,
): SensorFault | null {
  const { column } = one.sensor
  let { values } = one.sensor
  const { timeS, sampleIntervalS } = times
  const n = values.length
  let count = 0
  let startS = 0
  let endS = 0
  let own = -1
  for (let from = 0; from < n; ) {
    let to = from + 1
    while (to < n && values[to] === values[from]) to++
    const [begin, end] = [from, to]
    from = to
    if (end - begin < LEAST_STUCK_SAMPLES || timeS[end - 1] - timeS[begin] < LEAST_STUCK_S) continue
    const beside = others.map((next) => swings(next, begin, end))
    const other = Math.max(0, ...beside)
    if (other < LEAST_MISSED_SWINGS) continue
    // Where as many others rest beside it, the machine rests there: a load that comes and goes is its own affair.
    const moving = beside.filter((count) => count >= LEAST_MISSED_SWINGS).length
    const resting = beside.filter((count) => count === 0).length
    if (resting >= moving) continue
    if (own < 0) own = swings(one, 0, n)
    const reference = others.reduce(
      (most, next) => Math.max(most, swings(next, 0, begin) + swings(next, end, n)),
      0,
    )
    if (own * other < LEAST_MISSED_SWINGS * reference) continue
    if (count === 0) values = ownValues(one.sensor, borrowed)
    values.fill(Number.NaN, begin, end)
    if (count === 0) startS = timeS[begin]
    count += end - begin
    endS = timeS[end - 1] + sampleIntervalS
  }
  return count > 0 ? { code: 'sensor-stuck', column, count, startS, endS } : null
}

/**
 * Puts the reading before in the place of single-sample spikes of one sensor, in its values. Linear in the
 * samples. Returns what was taken out, sensor by sensor.
 * @param borrowed arrays of others: where a sensor holds one of these it gets a copy before anything is changed
 */
export function takeOutSpikes(
  sensors: readonly Sensor[],
  times: Times,
  borrowed: Borrowed = new Set(),
): SensorFault[] {
  return eachWithOthers(sensors, (one, others) => dropSpikes(one, others, times, borrowed))
}

/**
 * Takes long runs of one number while others move out of sensors' values: they count as missing.
 * Linear in the samples. Returns what was taken out, sensor by sensor.
 * @param borrowed as above
 */
export function takeOutStuck(
  sensors: readonly Sensor[],
  times: Times,
  borrowed: Borrowed = new Set(),
): SensorFault[] {
  return eachWithOthers(sensors, (one, others) => dropStuck(one, others, times, borrowed))
}

function eachWithOthers(
  sensors: readonly Sensor[],
  drop: (one: Judged, others: readonly Judged[]) => SensorFault | null,
): SensorFault[] {
  const judged = sensors.map(judge).filter((one) => one !== null)
  return judged.flatMap((one) => {
    const fault = drop(
      one,
      judged.filter((other) => other !== one),
    )
    return fault ? [fault] : []
  })
}
