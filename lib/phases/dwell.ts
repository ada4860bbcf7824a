import type { FirstKind } from './classify'
import type { SystemShare } from './flow-share'
import type { Levels } from './levels'
import type { Stretch } from './stretch'

/** Shortest phase, and the fewest samples where sampling is coarse. */
const LEAST_DWELL_S = 0.25
const LEAST_SAMPLES = 1.5

interface Run {
  first: number
  last: number
  durationS: number
  kind: FirstKind
}

/** On its way a reading has left the level before by these shares of dead-head pressure, full flow and the step. */
const LEFT_PRESSURE_SHARE = 0.01
const LEFT_FLOW_SHARE = 0.03
const LEFT_STEP_SHARE = 0.15

/** Short stretches of one kind in a row that last this long are a phase, however short each is: a load that rises. */
const LEAST_RUN_S = 0.5
const LEAST_RUN_SAMPLES = 4

/** A pressure this share of the dead-head level above those on either side is on no way between them. */
const BEYOND_SHARE = 0.1

/** A sample further than this share of the dead-head pressure from both its neighbours, between them, was read on the way. */
const ON_WAY_SHARE = 0.02

const isStill = (kind: FirstKind | undefined) => kind === 'dead-headed' || kind === 'idle-unloaded'

/**
 * Whether a stretch of a single sample was read on the way from one level to the next: what passes for metering then, and
 * for a stroke between two stretches at which no oil moves. Where samples are sparse such a sample is as long as a phase.
 */
function isOnWay(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  k: number,
  deadHeadPa: number,
): boolean {
  const { from, to, afterGap, means } = stretches[k]
  if (to - from > 1 || afterGap || k === 0 || k + 1 === stretches.length || stretches[k + 1].afterGap)
    return false
  if (
    kinds[k] !== 'work-metering' &&
    !(kinds[k] === 'work-moving' && isStill(kinds[k - 1]) && isStill(kinds[k + 1]))
  )
    return false
  const around = [stretches[k - 1], stretches[k + 1]].map((stretch) => stretch.means.pumpPressurePa)
  const least = ON_WAY_SHARE * deadHeadPa
  return (
    means.pumpPressurePa - Math.min(...around) > least && Math.max(...around) - means.pumpPressurePa > least
  )
}

/** Of a way up to the relief's pressure and the time at it, at least this share is spent there. */
const THERE_SHARE = 0.4

/**
 * Which stretches are transitions: short, and not one of many short ones of a kind that make a phase together. The
 * relief's pressure between two lower ones, while a valve waits before it vents, is a phase however short its pieces:
 * it begins with the way up, for the valve to the actuator is shut from there on. Sets the kinds of such pieces.
 */
function transitions(
  stretches: readonly Stretch[],
  kinds: FirstKind[],
  levels: Levels,
  leastS: number,
  leastRunS: number,
): readonly boolean[] {
  const short = stretches.map(
    ({ durationS }, k) => durationS < leastS || isOnWay(stretches, kinds, k, levels.deadHeadPa),
  )
  const pressurePa = (k: number) => stretches[k]?.means.pumpPressurePa ?? Number.NaN
  const steadyPa = (from: number, step: 1 | -1) => {
    let k = from
    while (short[k]) k += step
    return pressurePa(k)
  }
  const isBeyond = (k: number) =>
    pressurePa(k) > Math.max(steadyPa(k, -1), steadyPa(k, 1)) + BEYOND_SHARE * levels.deadHeadPa
  const wayUpS = (first: number) => {
    let seconds = 0
    for (
      let k = first - 1;
      short[k] && pressurePa(k) < pressurePa(k + 1) && !stretches[k + 1].afterGap;
      k--
    ) {
      seconds += stretches[k].durationS
    }
    return seconds
  }
  for (let first = 0; first < kinds.length; ) {
    let end = first
    let durationS = 0
    do durationS += stretches[end++].durationS
    while (short[end] && short[first] && kinds[end] === kinds[first] && !stretches[end].afterGap)
    if (durationS >= leastRunS) short.fill(false, first, end)
    first = end
  }
  // A valve that has not quite shut before the pump is vented: a relief that is open tells.
  const opensRelief = (k: number) => {
    if (kinds[k] !== 'work-metering') return kinds[k] === 'dead-headed'
    let next = k
    while (short[next]) next++
    return kinds[next] === 'idle-unloaded'
  }
  const isAtRelief = (k: number) => short[k] && opensRelief(k) && isBeyond(k)
  for (let first = 0; first < kinds.length; first++) {
    if (!isAtRelief(first)) continue
    let end = first
    let durationS = 0
    do durationS += stretches[end++].durationS
    while (end < kinds.length && isAtRelief(end) && !stretches[end].afterGap)
    if (durationS >= THERE_SHARE * leastS && durationS + wayUpS(first) >= leastS) {
      short.fill(false, first, end)
      kinds.fill('dead-headed', first, end)
    }
    first = end - 1
  }
  return short
}

const isOff = (kind: FirstKind) => kind === 'starting' || kind === 'stopped'

/**
 * Short steps between two levels belong to the phase that begins with them: a phase starts where its change
 * starts, not where it is complete; a stop too. A start is told by the motor alone.
 */
function giveTransitionsToNext(
  stretches: readonly Stretch[],
  kinds: FirstKind[],
  levels: Levels,
  share: SystemShare,
  leastS: number,
  leastRunS: number,
): void {
  const left = (from: number, to: number, now: number, least: number) =>
    Math.abs(now - from) > Math.max(least, LEFT_STEP_SHARE * Math.abs(to - from))
  const isShort = transitions(stretches, kinds, levels, leastS, leastRunS)
  for (let first = 1; first < stretches.length; first++) {
    if (!isShort[first]) continue
    let end = first
    while (end < stretches.length && isShort[end] && !stretches[end].afterGap && kinds[end] !== 'stopped')
      end++
    const [before, next] = [stretches[first - 1], stretches[end]]
    if (!next || next.afterGap || kinds.slice(first - 1, end).some(isOff) || kinds[end] === 'starting') {
      first = Math.max(first, end - 1)
      continue
    }
    const [shareBefore, shareNext] = [share(before), share(next)]
    let k = first
    while (
      k < end &&
      !left(
        before.means.pumpPressurePa,
        next.means.pumpPressurePa,
        stretches[k].means.pumpPressurePa,
        LEFT_PRESSURE_SHARE * levels.deadHeadPa,
      ) &&
      !left(shareBefore, shareNext, share(stretches[k]), LEFT_FLOW_SHARE)
    ) {
      k++
    }
    kinds.fill(kinds[end], k, end)
    first = end
  }
}

/** Shortest metering between dead-headed stretches that pressure alone can show. */
const LEAST_SPECK_S = 1

/**
 * Where pressure alone tells metering from dead-headed, a moment's dip between two dead-headed stretches is
 * noise and no metering.
 */
export function closeSpecks(stretches: readonly Stretch[], kinds: readonly FirstKind[]): FirstKind[] {
  return kinds.map((kind, i) => {
    const speck =
      kind === 'work-metering' &&
      stretches[i].durationS < LEAST_SPECK_S &&
      kinds[i - 1] === 'dead-headed' &&
      kinds[i + 1] === 'dead-headed' &&
      !stretches[i].afterGap &&
      !stretches[i + 1].afterGap
    return speck ? 'dead-headed' : kind
  })
}

/** How unlike two stretches are, in shares of the dead-head pressure. */
function distance(a: Stretch, b: Stretch, levels: Levels): number {
  const pressure = Math.abs(a.means.pumpPressurePa - b.means.pumpPressurePa) / levels.deadHeadPa
  return Number.isNaN(pressure) ? 1 : pressure
}

/**
 * Takes out phases shorter than the minimum dwell: each joins its like neighbours, or the neighbour whose
 * readings are nearer. Never joins across a gap. Returns the kinds, one a stretch.
 */
export function applyDwell(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  levels: Levels,
  share: SystemShare,
  sampleIntervalS: number,
): FirstKind[] {
  const leastS = Math.max(LEAST_DWELL_S, LEAST_SAMPLES * Math.min(sampleIntervalS, 0.5))
  const out = [...kinds]
  const leastRunS = Math.max(LEAST_RUN_S, LEAST_RUN_SAMPLES * Math.min(sampleIntervalS, 0.5))
  giveTransitionsToNext(stretches, out, levels, share, leastS, leastRunS)
  const runs: Run[] = []
  const push = (run: Run) => {
    const top = runs.at(-1)
    if (top && top.kind === run.kind && !stretches[run.first].afterGap) {
      top.last = run.last
      top.durationS += run.durationS
    } else runs.push(run)
  }
  stretches.forEach((stretch, i) => {
    push({ first: i, last: i, durationS: stretch.durationS, kind: out[i] })
  })
  for (let r = 0; r < runs.length; r++) {
    const run = runs[r]
    if (run.durationS >= leastS || run.kind === 'starting') continue
    const before = r > 0 && !stretches[run.first].afterGap ? runs[r - 1] : null
    const after = r + 1 < runs.length && !stretches[runs[r + 1].first].afterGap ? runs[r + 1] : null
    if (!before && !after) continue
    const toBefore = before
      ? distance(stretches[run.first], stretches[before.last], levels)
      : Number.POSITIVE_INFINITY
    const toAfter = after
      ? distance(stretches[run.last], stretches[after.first], levels)
      : Number.POSITIVE_INFINITY
    const kind = before && toBefore <= toAfter ? before.kind : (after?.kind ?? run.kind)
    run.kind = kind
    out.fill(kind, run.first, run.last + 1)
  }
  return out
}
