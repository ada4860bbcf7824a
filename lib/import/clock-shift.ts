import { quantile } from '@/lib/numeric/quantile'
import type { PlacedTrace } from './change-series'
import { type ShiftProfile, shiftProfile } from './shift-profile'

/** Clocks further apart than this are not sought: they are set wrong, not seconds apart. */
const MOST_SHIFT_S = 120
/** A shift fits as well as the best where its score reaches this share of it … */
const AS_GOOD = 0.85
/** … or the stretches do not agree that it is worse: by so many standard errors. */
const CLEARLY = 3
/** Squared correlation of the best pair below which nothing is told. */
const LEAST_TOLD = 0.1
/** The best must stand out of what chance gives at other shifts. */
const ABOVE_CHANCE = 6
/** Meters lag and loggers read at other moments of an interval: so much is no difference of clocks. */
const LEAST_SHIFT_S = 0.3
/** Clocks that gain or lose so much are looked for where a recording is long enough to show it, s/s. */
const DRIFTS = [-3e-4, -2e-4, -1e-4, 1e-4, 2e-4, 3e-4]
/** A drift must make things so much better. */
const BETTER = 1.3
/** 95 % of a normal distribution. */
const NORMAL_95 = 1.96
/** A stretch tells its own shift where its correlation reaches this share of the stretches' middle one. */
const STRETCH_TELLS = 0.3
const FEWEST_STRETCHES = 4

/** What is to be added to the second logger's stamps, in s, at the start and the end of the time shared. */
export interface Shift {
  readonly shiftS: number
  /** 95 % half-width. */
  readonly doubtS: number
  /** s gained a second by which the second clock must be moved further; 0 where it keeps pace. */
  readonly drift: number
  /** Where `shiftS` holds, s on the first logger's axis. */
  readonly middleS: number
  /** Correlation of changes at that shift, 0 to 1, of the channels that go together best. */
  readonly correlation: number
}

/**
 * `agree`: as stamped fits as well as anything. `apart`: one shift fits and no other. `ambiguous`: several fit and
 * as stamped does not (a machine whose cycles are alike); the smallest first. `untold`: nothing goes together.
 */
export type ClockShift =
  | { readonly kind: 'agree' | 'untold' }
  | { readonly kind: 'apart'; readonly shift: Shift }
  | { readonly kind: 'ambiguous'; readonly shifts: readonly Shift[] }

/** Whether the stretches agree that a shift of another profile (or of the same) fits worse than `best`. */
function isClearlyWorse(profile: ShiftProfile, best: number, other: ShiftProfile, lag: number): boolean {
  const weights = profile.weights(best)
  const differences = profile.middlesS.map(
    (_, block) => profile.blockScore(block, best, weights) - other.blockScore(block, lag, weights),
  )
  const n = differences.length
  const mean = differences.reduce((sum, value) => sum + value, 0) / n
  const variance = differences.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1)
  return mean > CLEARLY * Math.sqrt(variance / n)
}

/** Where a peak lies around `near`: the middle of its upper half, in steps, no further off than `reach`. */
function peakOf(scoreAt: (lag: number) => number, near: number, reach: number): number {
  let best = near
  for (let lag = near - reach; lag <= near + reach; lag++) if (scoreAt(lag) > scoreAt(best)) best = lag
  const floor = scoreAt(best) / 2
  let sum = 0
  let weighed = 0
  const add = (lag: number): boolean => {
    const above = scoreAt(lag) - floor
    if (above <= 0) return false
    sum += above
    weighed += above * lag
    return true
  }
  for (let lag = best; lag >= best - 2 * reach && add(lag); lag--);
  for (let lag = best + 1; lag <= best + 2 * reach && add(lag); lag++);
  return sum > 0 ? weighed / sum : best
}

const median = (values: readonly number[]): number => quantile(values, 0.5)

/** Slope and middle of points on a line, by medians: a stretch that found another cycle turns nothing. */
function lineThrough(x: readonly number[], y: readonly number[]): { slope: number; level: number } {
  const slopes: number[] = []
  for (let i = 0; i < x.length; i++)
    for (let k = i + 1; k < x.length; k++) slopes.push((y[k] - y[i]) / (x[k] - x[i]))
  const slope = median(slopes)
  const middle = median(x)
  return { slope, level: median(y.map((value, i) => value - slope * (x[i] - middle))) }
}

/** A shift to parts of a step, from what the stretches say of it each for itself. */
function refine(profile: ShiftProfile, lag: number, reach: number, slowestS: number): Shift {
  const { stepS, middlesS } = profile
  const weights = profile.weights(lag)
  const correlation = Math.sqrt(weights.reduce((most, value) => Math.max(most, value * value), 0))
  const found = middlesS.map((middleS, block) => {
    const scoreAt = (at: number): number => profile.blockScore(block, at, weights)
    const peak = peakOf(scoreAt, lag, reach)
    return { middleS, shiftS: peak * stepS, score: scoreAt(Math.round(peak)) }
  })
  const least = STRETCH_TELLS * median(found.map(({ score }) => score))
  const telling = found.filter(({ score }) => score > 0 && score >= least)
  const middleS = median(telling.map((one) => one.middleS))
  const level = median(telling.map(({ shiftS }) => shiftS))
  const spread = (at: (middleS: number) => number): number => {
    const off = telling.map((one) => Math.abs(one.shiftS - at(one.middleS)))
    return (1.4826 * median(off)) / Math.sqrt(off.length)
  }
  // What one interval of the slower logger hides, no number of stretches brings to light.
  const doubt = (sd: number): number => Math.max(NORMAL_95 * sd, slowestS / 10)
  const steady = {
    shiftS: level,
    doubtS: doubt(spread(() => level)),
    drift: profile.drift,
    middleS,
    correlation,
  }
  if (telling.length < FEWEST_STRETCHES) return steady
  const line = lineThrough(
    telling.map((one) => one.middleS),
    telling.map((one) => one.shiftS),
  )
  const sd = spread((at) => line.level + line.slope * (at - middleS))
  const drifted = Math.abs(line.slope) * (middlesS[middlesS.length - 1] - middlesS[0])
  const counts = drifted > Math.max(slowestS, LEAST_SHIFT_S, 6 * sd)
  return counts
    ? { ...steady, shiftS: line.level, doubtS: doubt(sd), drift: profile.drift + line.slope }
    : steady
}

/**
 * How far the second logger's clock is from the first's, found where the changes of their channels go together
 * best. Changes over a second or an interval are correlated stretch by stretch, with their sign and without, so
 * that it does not matter which quantities the loggers read. Linear in the readings for a given range of shifts.
 */
export function findClockShift(first: PlacedTrace, second: PlacedTrace): ClockShift {
  const steady = shiftProfile(first, second, MOST_SHIFT_S + 10)
  if (steady === null) return { kind: 'untold' }
  const { stepS, spanS, middlesS } = steady
  const slowestS = Math.max(first.trace.sampleIntervalS, second.trace.sampleIntervalS)
  const half = Math.max(1, Math.round(spanS / stepS / 2))
  const most = Math.floor(MOST_SHIFT_S / stepS / half)
  const lags = Array.from({ length: 2 * most + 1 }, (_, i) => (i - most) * half)
  const lengthS = middlesS[middlesS.length - 1] - middlesS[0]
  const scored = [0, ...DRIFTS.filter((drift) => Math.abs(drift) * lengthS > spanS)].map((drift) => {
    const profile = steady.tilted(drift)
    const scores = lags.map((lag) => profile.roughScore(lag))
    return { profile, scores, best: Math.max(...scores) * (drift === 0 ? BETTER : 1) }
  })
  const { profile, scores } = scored.reduce((a, b) => (b.best > a.best ? b : a))
  const floor = 0.3 * Math.max(...scores)
  const isPeak = (i: number): boolean =>
    scores[i] >= (scores[i - 1] ?? 0) && scores[i] >= (scores[i + 1] ?? 0)
  const peaks = lags
    .filter((_, i) => scores[i] >= floor && isPeak(i))
    .map((lag) => fine(profile, lag, half))
    .sort((a, b) => b.score - a.score)
  const best = peaks[0]
  const strongest = profile.weights(best.lag).reduce((high, value) => Math.max(high, value * value), 0)
  if (strongest < LEAST_TOLD || best.score < ABOVE_CHANCE * median(scores)) return { kind: 'untold' }
  const fits = (other: ShiftProfile, lag: number, score: number): boolean =>
    score >= AS_GOOD * best.score || !isClearlyWorse(profile, best.lag, other, lag)
  const tolerance = Math.max(slowestS, LEAST_SHIFT_S)
  const asStamped = fine(steady, 0, half)
  const isNear = Math.abs(best.lag * stepS) <= tolerance && profile.drift === 0
  if (isNear || fits(steady, asStamped.lag, asStamped.score)) return { kind: 'agree' }
  const rivals = peaks.filter(
    ({ lag, score }) =>
      Math.abs(lag - best.lag) > 3 * half && score > 0.3 * best.score && fits(profile, lag, score),
  )
  const nearest = rivals.reduce(
    (least, { lag }) => Math.min(least, Math.abs(lag - best.lag)),
    Number.POSITIVE_INFINITY,
  )
  const reach = Math.floor(Math.min(6 * half, nearest / 2))
  const shifts = [best, ...rivals]
    .map(({ lag }) => refine(profile, lag, reach, slowestS))
    .sort((a, b) => Math.abs(a.shiftS) - Math.abs(b.shiftS))
  if (shifts.length > 1) return { kind: 'ambiguous', shifts }
  const [shift] = shifts
  return Math.abs(shift.shiftS) <= Math.max(tolerance, shift.doubtS) && shift.drift === 0
    ? { kind: 'agree' }
    : { kind: 'apart', shift }
}

/** The best shift in steps around one that was found at a coarser step. */
function fine(profile: ShiftProfile, near: number, reach: number): { lag: number; score: number } {
  let lag = near
  let score = profile.score(near)
  for (let at = near - reach + 1; at < near + reach; at++) {
    const here = profile.score(at)
    if (here > score) {
      lag = at
      score = here
    }
  }
  return { lag, score }
}
