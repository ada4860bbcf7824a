import { quantile } from '@/lib/numeric/quantile'
import { readerOf, type SampleReader } from '@/lib/samples/samples'
import type { Sensor } from '@/lib/samples/sensors'

/** A meter that follows the oil or the motor with a first-order lag much longer than the pressure sensor's. */
export interface SlowSensor {
  readonly column: string
  readonly timeConstantS: number
}

/** Shortest lag that matters: quicker meters have arrived before a phase could be taken for another. */
const LEAST_LAG_S = 0.5
/** So soon after a jump a quick meter has shown most of it. */
const SOON_S = 0.3
const SOON_SHARE = 0.7
/** What lies between two jumps is looked at for so long. */
const SHORTEST_WINDOW_S = 2.5
const LONGEST_WINDOW_S = 6
const FEWEST_SAMPLES = 4
const FEWEST_JUMPS = 5
const MOST_JUMPS = 300
/** A pressure that moves on by more than this share of its jump is a ramp: what follows it is not slow. */
const MOVES_ON_SHARE = 0.15
/** A jump is at least this share of a channel's range. */
const JUMP_SHARE = 0.1

/** Samples at which the pump pressure jumps at once, among the starts of stretches. */
export function pressureJumps(
  pressure: SampleReader,
  starts: ArrayLike<number>,
  rangePa: number,
  sampleIntervalS: number,
): number[] {
  const soon = Math.floor(SOON_S / sampleIntervalS)
  const jumps: number[] = []
  for (let k = 1; k < starts.length; k++) {
    const from = starts[k]
    const step = Math.abs(pressure.at(Math.min(from + soon, pressure.length - 1)) - pressure.at(from - 1))
    if (step > JUMP_SHARE * rangePa && !(from - jumps[jumps.length - 1] < 2 * soon)) jumps.push(from)
  }
  return jumps
}

/**
 * Time constant of a meter's lag in s where it is slow, else null. Between two jumps of the pressure a lagging
 * reading y obeys τ·y' = x − y with a constant x: the means of both halves of the window and the readings at
 * its ends and middle give τ without knowing x. Where the pressure moves on after its jump, so does x.
 */
export function lagOf(
  values: SampleReader,
  range: number,
  pressure: SampleReader,
  jumps: readonly number[],
  sampleIntervalS: number,
): number | null {
  const soon = Math.floor(SOON_S / sampleIntervalS)
  const longest = Math.floor(LONGEST_WINDOW_S / sampleIntervalS)
  const shortest = Math.max(Math.floor(SHORTEST_WINDOW_S / sampleIntervalS), FEWEST_SAMPLES)
  const stride = Math.max(1, Math.floor(jumps.length / MOST_JUMPS))
  const lags: number[] = []
  const shares: number[] = []
  for (let k = 0; k < jumps.length; k += stride) {
    const from = jumps[k]
    const length = Math.min((jumps[k + 1] ?? values.length) - from, longest)
    if (length < shortest) continue
    const half = length >> 1
    const [start, middle, end] = [from - 1, from - 1 + half, from - 1 + 2 * half].map((i) => values.at(i))
    if (!(Math.abs(end - start) > JUMP_SHARE * range)) continue
    const arrived = pressure.at(from + soon)
    const moves = Math.max(...[half, 2 * half - 1].map((i) => Math.abs(pressure.at(from + i) - arrived)))
    if (!(moves <= MOVES_ON_SHARE * Math.abs(arrived - pressure.at(from - 1)))) continue
    let early = 0
    let late = 0
    for (let i = 0; i < half; i++) {
      early += values.at(from + i)
      late += values.at(from + half + i)
    }
    shares.push((values.at(from + soon) - start) / (end - start))
    lags.push(((late - early) * sampleIntervalS) / (2 * middle - start - end))
  }
  if (lags.length < FEWEST_JUMPS || !(quantile(shares, 0.5) < SOON_SHARE)) return null
  // Noise makes single lags long and short alike: three in four of a slow meter's are long.
  const isSlow = quantile(lags, 0.25) > Math.max(LEAST_LAG_S, sampleIntervalS / 2)
  return isSlow ? quantile(lags, 0.5) : null
}

/** Readings at a stretch's ends are averaged over so long. */
const END_S = 0.1

/**
 * What a lagging meter would have shown in the mean over samples [from, to): integrating τ·y' = x − y over the
 * stretch gives its mean x exactly from the mean and the ends of y.
 */
export function withoutLag(
  sensor: Sensor,
  stretch: {
    readonly from: number
    readonly to: number
    readonly durationS: number
    readonly afterGap: boolean
  },
  mean: number,
  lagS: number,
  sampleIntervalS: number,
): number {
  const { from, to, durationS, afterGap } = stretch
  const values = readerOf(sensor.values)
  const width = Math.max(1, Math.round(END_S / sampleIntervalS))
  const before = (end: number, least: number) => {
    let sum = 0
    let count = 0
    for (let i = Math.max(end - width, least); i < end; i++) {
      const value = values.at(i)
      if (Number.isNaN(value)) continue
      sum += value
      count++
    }
    return sum / count
  }
  const start = afterGap ? before(from + width, from) : before(from, 0)
  const moved = before(to, from) - start
  return Number.isNaN(moved) || durationS < END_S ? mean : mean + (lagS * moved) / durationS
}
