import type { Machine } from '@/lib/contract/machine'
import type { PhaseKind } from '@/lib/contract/result'
import { normalBelow } from '@/lib/numeric/normal-below'
import type { FirstKind } from './classify'
import { LOAD_SHARE } from './load-tells'
import type { Stretch } from './stretch'

/** Where the machine file does not say how long a hold may last (domain rule). */
const DEFAULT_LONGEST_HOLD_S = 15

export const longestHoldOf = (machine: Machine) => machine.longestHoldS ?? DEFAULT_LONGEST_HOLD_S

/**
 * What signals and load pressure say of a dead-headed stretch: true for a hold, false for an idle, null
 * where neither is logged. A signal outranks the load pressure.
 */
function evidenceOf({ means }: Stretch, standbyPa: number): boolean | null {
  if (!Number.isNaN(means.cycleActive)) return means.cycleActive > 0.5
  if (!Number.isNaN(means.idleSignal)) return means.idleSignal < 0.5
  // A valve that nobody energises springs back and holds nothing (common practice, no source).
  if (!Number.isNaN(means.solenoid)) return means.solenoid > 0.5
  if (!Number.isNaN(means.loadPressurePa)) {
    return means.loadPressurePa > LOAD_SHARE * means.pumpPressurePa
  }
  // A load-sensing pump shows the load itself: held, it stands above its standby pressure.
  return standbyPa > 0 ? means.pumpPressurePa > standbyPa : null
}

/** A load pressure that is still falling is no hold of its own. */
const LEAST_HOLD_S = 0.5

/** Lets parts of a dead-headed run shorter than a hold join what follows them, else what precedes. */
function joinShort(holds: boolean[], stretches: readonly Stretch[], offset: number): void {
  for (let first = 0; first < holds.length; ) {
    let end = first
    let durationS = 0
    while (end < holds.length && holds[end] === holds[first]) durationS += stretches[offset + end++].durationS
    const neighbour = end < holds.length ? holds[end] : holds[first - 1]
    if (durationS < LEAST_HOLD_S && neighbour !== undefined) holds.fill(neighbour, first, end)
    first = end
  }
}

/** Dead-headed stretches [first, last] that follow each other without a gap. */
interface Run {
  readonly first: number
  readonly last: number
  readonly durationS: number
  /** Work comes right before it; null after a gap, where nobody knows. */
  readonly followsWork: boolean | null
  /** How many runs came before it since the machine last idled or stood. */
  readonly ordinal: number
  /** A gap, the end of the log or the motor's stop cuts it: it might have gone on. */
  readonly isCut: boolean
}

const isWork = (kind: FirstKind) => kind === 'work-moving' || kind === 'work-metering'

function deadHeadedRuns(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  longestHoldS: number,
): Run[] {
  const runs: Run[] = []
  let ordinal = 0
  for (let first = 0; first < kinds.length; first++) {
    if (kinds[first] === 'stopped' || kinds[first] === 'idle-unloaded') ordinal = 0
    if (kinds[first] !== 'dead-headed') continue
    let last = first
    let durationS = stretches[first].durationS
    while (kinds[last + 1] === 'dead-headed' && !stretches[last + 1].afterGap) {
      last++
      durationS += stretches[last].durationS
    }
    const followsWork = stretches[first].afterGap && first > 0 ? null : first > 0 && isWork(kinds[first - 1])
    const isCut = last + 1 === kinds.length || stretches[last + 1].afterGap || kinds[last + 1] === 'stopped'
    runs.push({ first, last, durationS, followsWork, ordinal, isCut })
    ordinal = durationS < longestHoldS ? ordinal + 1 : 0
    first = last
  }
  return runs
}

/**
 * Whether a run is longer than a hold may be. Of a run that is cut nobody knows the length: it is what whole runs at its
 * place in the cycle mostly are, where there are any.
 */
function tooLongForHold(runs: readonly Run[], longestHoldS: number): (run: Run) => boolean {
  const whole = runs.filter((run) => !run.isCut && run.followsWork)
  const longLead = (ordinal: number) => {
    const alike = whole.filter((run) => run.ordinal === ordinal)
    return alike.filter(({ durationS }) => durationS < longestHoldS).length < alike.length / 2
  }
  return ({ durationS, isCut, followsWork, ordinal }) =>
    durationS >= longestHoldS || (isCut && followsWork === true && longLead(ordinal))
}

/**
 * Whether length makes a run a hold: one right after work and not too long for one. One that begins after a gap is a hold
 * where every whole run of the log is.
 */
function holdByLength(runs: readonly Run[], isLong: (run: Run) => boolean): (run: Run) => boolean {
  const whole = runs.filter((run) => !run.isCut && run.followsWork)
  const onlyHolds = whole.length > 0 && !whole.some(isLong)
  return (run) => !isLong(run) && (run.followsWork ?? onlyHolds)
}

/** As many whole runs alike show that their lengths are a timer's; so many of them have to be alike. */
const LEAST_TIMED = 3
const TIMED_SHARE = 0.75
/** A timer's lengths differ by no more than edges of samples, the valve's answer and this share. */
const TIMED_INTERVALS = 1.5
const TIMED_S = 0.1
const TIMED_LENGTH_SHARE = 0.003

/** Lengths that no timer sets differ by about this share (1 sd; common practice, no source). */
const UNTIMED_SHARE = 0.04
/** Lengths that come out alike by chance more often than this show no timer. */
const BY_CHANCE = 0.02
/** Runs as brief as this are no feed, whose lengths could be alike by chance. */
const BRIEF_S = 5

/** Chance that of `others` lengths that no timer sets `alike` or more lie within `apartS` of one that is `middleS`. */
function chanceAlike(alike: number, others: number, apartS: number, middleS: number): number {
  const one = 2 * normalBelow(apartS / (UNTIMED_SHARE * middleS)) - 1
  let ways = 1
  let chance = 0
  for (let k = others; k >= alike; k--) {
    chance += ways * one ** k * (1 - one) ** (others - k)
    ways *= k / (others - k + 1)
  }
  return chance
}

/**
 * Whether runs last the same every time, as a timer makes them and no load; null where whole ones are too few, or told
 * too coarsely, to be alike by anything but chance.
 */
function areTimed(runs: readonly Run[], stretches: readonly Stretch[]): boolean | null {
  const whole = runs.filter(({ isCut }) => !isCut)
  if (whole.length < 2) return null
  const lengths = whole.map(({ durationS }) => durationS).sort((a, b) => a - b)
  const middleS = lengths[lengths.length >> 1]
  const { from, to, durationS } = stretches[whole[0].first]
  const apartS = Math.max((TIMED_INTERVALS * durationS) / (to - from), TIMED_S, TIMED_LENGTH_SHARE * middleS)
  const alike = lengths.filter((seconds) => Math.abs(seconds - middleS) <= apartS).length
  if (alike < TIMED_SHARE * lengths.length) return false
  if (whole.length < LEAST_TIMED) return null
  const others = lengths.length - 1
  return middleS <= BRIEF_S || chanceAlike(alike - 1, others, apartS, middleS) < BY_CHANCE ? true : null
}

/** How a log tells holds from loaded idles. */
export interface HoldRules {
  readonly longestHoldS: number
  /** A load-sensing pump shows the load in its own pressure: above it, Pa; nil for other pumps. */
  readonly standbyPa: number
  /** The machine idles unloaded and no meter shows that no oil moves: pressure alone tells. */
  readonly isBlind: boolean
}

/**
 * Runs right after work that end as the pump is unloaded or, where pressure alone tells, that are cut when they are longer
 * than any hold, and of which nothing but their length tells.
 */
function openRuns(
  runs: readonly Run[],
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  { isBlind, standbyPa }: HoldRules,
  isLong: (run: Run) => boolean,
): Run[] {
  return runs.filter((run) => {
    const { first, last, followsWork, isCut } = run
    return (
      followsWork === true &&
      (isCut ? isBlind && isLong(run) : kinds[last + 1] === 'idle-unloaded') &&
      stretches.slice(first, last + 1).every((stretch) => evidenceOf(stretch, standbyPa) === null)
    )
  })
}

/**
 * A run longer than any hold that begins as the unloaded pump is loaded, where pressure alone tells: nothing loads a pump
 * that can stay unloaded but work.
 */
const beginsFromUnloaded = (
  run: Run,
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  { isBlind, standbyPa }: HoldRules,
  isLong: (run: Run) => boolean,
) =>
  isBlind &&
  run.followsWork === false &&
  kinds[run.first - 1] === 'idle-unloaded' &&
  isLong(run) &&
  stretches.slice(run.first, run.last + 1).every((stretch) => evidenceOf(stretch, standbyPa) === null)

/**
 * Tells holds from loaded idles, in the order of evidence: a cycle or idle signal, the load pressure, else length. A run
 * that ends as the pump is unloaded is a wait of the valve's timer if it lasts the same every time, else a hold. Where
 * pressure alone tells on a machine that idles unloaded, a run too long for a hold is metering if work follows, if the
 * pump is unloaded after times that differ, or if it was unloaded before.
 */
export function tellHolds(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  rules: HoldRules,
): PhaseKind[] {
  const { longestHoldS, standbyPa, isBlind } = rules
  const out: PhaseKind[] = kinds.map((kind) => (kind === 'dead-headed' ? 'idle-loaded' : kind))
  const runs = deadHeadedRuns(stretches, kinds, longestHoldS)
  const isLong = tooLongForHold(runs, longestHoldS)
  const byLength = holdByLength(runs, isLong)
  const ends = openRuns(runs, stretches, kinds, rules, isLong)
  const timed = areTimed(ends, stretches)
  const byTimer = new Set(timed === null ? [] : ends)
  for (const run of runs) {
    if (byTimer.has(run)) {
      const untimed = !isLong(run) ? 'work-holding' : isBlind ? 'work-metering' : 'idle-loaded'
      out.fill(timed ? 'idle-loaded' : untimed, run.first, run.last + 1)
      continue
    }
    if (beginsFromUnloaded(run, stretches, kinds, rules, isLong)) {
      out.fill('work-metering', run.first, run.last + 1)
      continue
    }
    const holds = stretches
      .slice(run.first, run.last + 1)
      .map((stretch) => evidenceOf(stretch, standbyPa) ?? byLength(run))
    joinShort(holds, stretches, run.first)
    const inCycle = run.followsWork && run.last + 1 < kinds.length && isWork(kinds[run.last + 1])
    const otherwise = isBlind && inCycle && isLong(run) ? 'work-metering' : 'idle-loaded'
    holds.forEach((hold, k) => {
      const told = evidenceOf(stretches[run.first + k], standbyPa) !== null
      out[run.first + k] = hold ? 'work-holding' : told ? 'idle-loaded' : otherwise
    })
  }
  return out
}

/** Whether a timer is seen to keep the pump at the relief's pressure before it is unloaded: then nothing moves there. */
export function waitsAreTimed(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  rules: HoldRules,
): boolean {
  const runs = deadHeadedRuns(stretches, kinds, rules.longestHoldS)
  const isLong = tooLongForHold(runs, rules.longestHoldS)
  return areTimed(openRuns(runs, stretches, kinds, rules, isLong), stretches) === true
}

/**
 * The same kinds as they would be if runs that end or begin as the pump is unloaded were the other thing that their
 * pressure and length allow; null where there are none. Lengths that differ every time rule a wait out for a run longer
 * than any hold.
 */
export function otherwiseTold(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  told: readonly PhaseKind[],
  rules: HoldRules,
): PhaseKind[] | null {
  const runs = deadHeadedRuns(stretches, kinds, rules.longestHoldS)
  const isLong = tooLongForHold(runs, rules.longestHoldS)
  const ends = openRuns(runs, stretches, kinds, rules, isLong)
  const timed = areTimed(ends, stretches)
  const open = [
    ...ends.filter((run) => !isLong(run) || (rules.isBlind && timed === null)),
    ...runs.filter((run) => beginsFromUnloaded(run, stretches, kinds, rules, isLong)),
  ]
  if (open.length === 0) return null
  const out = [...told]
  for (const run of open) {
    const { first, last } = run
    const atWork = isLong(run) ? 'work-metering' : 'work-holding'
    for (let k = first; k <= last; k++) out[k] = told[k] === 'idle-loaded' ? atWork : 'idle-loaded'
  }
  return out
}
