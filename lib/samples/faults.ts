import { noiseSd } from '@/lib/numeric/noise'
import { signalQuantiles } from '@/lib/numeric/quantile'
import {
  type ChannelSamples,
  copyOf,
  dropReadings,
  READ_AT_ONCE,
  readerOf,
  repeatReading,
  type SampleReader,
} from './samples'
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
function stepOf(values: SampleReader, range: number): number {
  const stride = Math.max(1, Math.floor(values.length / STEP_SAMPLES))
  const least = LEAST_STEP_SHARE * range
  let step = Number.POSITIVE_INFINITY
  for (let i = 1; i < values.length; i += stride) {
    const size = Math.abs(values.at(i) - values.at(i - 1))
    if (size > least && size < step) step = size
  }
  return Number.isFinite(step) ? step : 0
}

function judge(sensor: Sensor): Judged | null {
  const values = readerOf(sensor.values)
  const [low, high] = signalQuantiles(values, [0.01, 0.99])
  const noise = Math.max(SPIKE_SD * noiseSd(values), SPIKE_STEPS * stepOf(values, high - low))
  const jump = Math.max(noise, SPIKE_RANGE_SHARE * (high - low))
  return jump > 0 ? { sensor, low, high, jump } : null
}

/** Arrays that others hold, too. */
type Borrowed = ReadonlySet<ChannelSamples>

/** A sensor's values to write to: a copy of its own in the place of borrowed ones. */
function ownValues(sensor: Sensor, borrowed: Borrowed): ChannelSamples {
  if (borrowed.has(sensor.values)) sensor.values = copyOf(sensor.values)
  return sensor.values
}

/** The first reading from `from` on that lies beyond both beside it by more than a jump; the last one's place where none does. */
function standsOut(readings: Float64Array, from: number, jump: number): number {
  const last = readings.length - 1
  for (let i = from; i < last; i++) {
    // Three readings each time: a loop that is compiled while it runs makes an object of each number it carries along.
    const here = readings[i]
    const up = here - readings[i - 1]
    const down = here - readings[i + 1]
    if ((up > jump && down > jump) || (up < -jump && down < -jump)) return i
  }
  return last
}

/** Puts the reading before in the place of each single-sample spike. */
function dropSpikes(
  one: Judged,
  others: readonly Judged[],
  times: Times,
  borrowed: Borrowed,
): SensorFault | null {
  const { column } = one.sensor
  const read = readerOf(one.sensor.values)
  const { jump } = one
  const { sampleIntervalS } = times
  const [timeS, holdS] = [readerOf(times.timeS), readerOf(times.holdS)]
  const beside = others.map(({ sensor, jump: least }) => ({ read: readerOf(sensor.values), least }))
  const quick = sampleIntervalS < QUICK_S
  const quiet = (i: number) =>
    beside.length > 0 &&
    beside.every(
      ({ read, least }) =>
        Math.abs(read.at(i) - read.at(i - 1)) < least && Math.abs(read.at(i + 1) - read.at(i - 1)) < least,
    )
  const last = read.length - 1
  /** Whether sample i is a spike beside this reading before it and the one behind it. */
  const isSpike = (i: number, before: number): boolean => {
    const up = read.at(i) - before
    const down = read.at(i) - read.at(i + 1)
    if (!((up > jump && down > jump) || (up < -jump && down < -jump))) return false
    if (!(Math.abs(up - down) < BACK_SHARE * Math.min(Math.abs(up), Math.abs(down)))) return false
    if (timeS.at(i + 1) - timeS.at(i - 1) > holdS.at(i - 1) + holdS.at(i) + 1e-6) return false
    return quick || quiet(i)
  }
  let count = 0
  let first = 0
  let latest = 0
  /** The next sample to look at. */
  let next = 1
  for (let blockAt = 0; blockAt + 1 < last; blockAt += READ_AT_ONCE) {
    // With one reading more on either side.
    const block = read.between(blockAt, Math.min(blockAt + READ_AT_ONCE + 2, read.length))
    const standing = () => standsOut(block, next - blockAt, jump)
    for (let at = standing(); at < block.length - 1; at = standing()) {
      let i = blockAt + at
      const before = read.at(i - 1)
      for (; i < last && isSpike(i, before); i++) {
        repeatReading(ownValues(one.sensor, borrowed), i - 1, i, i + 1)
        if (count === 0) first = i
        latest = i
        count++
      }
      next = i + 1
    }
    next = Math.max(next, blockAt + READ_AT_ONCE + 1)
  }
  if (count === 0) return null
  return {
    code: 'sensor-spike',
    column,
    count,
    startS: timeS.at(first),
    endS: timeS.at(latest) + sampleIntervalS,
  }
}

/** A sensor is stuck that shows one and the same number this long, while others swing and it should have. */
const LEAST_STUCK_S = 20
const LEAST_STUCK_SAMPLES = 10
const LEAST_MISSED_SWINGS = 5

/** How often readings [from, to) go from the lower to the upper third of their range or back. */
function swings({ sensor, low, high }: Judged, from: number, to: number): number {
  const values = readerOf(sensor.values)
  const lower = low + (high - low) / 3
  const upper = high - (high - low) / 3
  let count = 0
  let side = 0
  for (let i = from; i < to; i++) {
    const value = values.at(i)
    const now = value > upper ? 1 : value < lower ? -1 : side
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
  const values = readerOf(one.sensor.values)
  const { sampleIntervalS } = times
  const timeS = readerOf(times.timeS)
  const n = values.length
  let count = 0
  let startS = 0
  let endS = 0
  let own = -1
  for (let from = 0; from < n; ) {
    // A run that is long enough and begins from here on holds the sample at its least length: where that one's begins
    // later, all before it is passed over at once.
    const least = from + LEAST_STUCK_SAMPLES - 1
    if (least >= n) break
    const value = values.at(least)
    let begin = least
    while (begin > from && values.at(begin - 1) === value) begin--
    if (begin > from) {
      from = begin
      continue
    }
    const end = values.endOfRun(begin)
    from = end
    if (end - begin < LEAST_STUCK_SAMPLES || timeS.at(end - 1) - timeS.at(begin) < LEAST_STUCK_S) continue
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
    dropReadings(ownValues(one.sensor, borrowed), begin, end)
    if (count === 0) startS = timeS.at(begin)
    count += end - begin
    endS = timeS.at(end - 1) + sampleIntervalS
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
