import type { Machine } from '@/lib/contract/machine'
import type { PhaseKind } from '@/lib/contract/result'
import type { FirstKind } from './classify'
import type { Stretch } from './stretch'

/** Where the machine file does not say how long a hold may last (domain rule). */
const DEFAULT_LONGEST_HOLD_S = 15

export const longestHoldOf = (machine: Machine) => machine.longestHoldS ?? DEFAULT_LONGEST_HOLD_S

/** A hold has at least this share of the pump pressure at the load (common practice, no source). */
const HOLD_LOAD_SHARE = 0.1

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
    return means.loadPressurePa > HOLD_LOAD_SHARE * means.pumpPressurePa
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
 * Whether length makes a run a hold: one right after work and shorter than the longest hold. Of a run that is cut
 * nobody knows the length: it is what whole runs at its place in the cycle mostly are, where there are any. One that
 * begins after a gap is a hold where every whole run of the log is.
 */
function holdByLength(runs: readonly Run[], longestHoldS: number): (run: Run) => boolean {
  const isShort = (run: Run) => run.durationS < longestHoldS
  const whole = runs.filter((run) => !run.isCut && run.followsWork)
  const idlesLead = (ordinal: number) => {
    const alike = whole.filter((run) => run.ordinal === ordinal)
    return alike.filter(isShort).length < alike.length / 2
  }
  const onlyHolds = whole.length > 0 && whole.every(isShort)
  return (run) => {
    if (!isShort(run)) return false
    if (run.followsWork === null) return onlyHolds
    return run.followsWork && !(run.isCut && idlesLead(run.ordinal))
  }
}

/**
 * Tells holds from loaded idles, in the order of evidence: a cycle or idle signal, the load pressure (a
 * load-sensing pump shows it in its own: above `standbyPa`, nil for other pumps), else length. `tooLongIs` says what
 * a run between work and work is that is longer than any hold: metering where the machine idles unloaded and no meter shows
 * that no oil moves.
 */
export function tellHolds(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  longestHoldS: number,
  standbyPa: number,
  tooLongIs: 'idle-loaded' | 'work-metering' = 'idle-loaded',
): PhaseKind[] {
  const out: PhaseKind[] = kinds.map((kind) => (kind === 'dead-headed' ? 'idle-loaded' : kind))
  const runs = deadHeadedRuns(stretches, kinds, longestHoldS)
  const byLength = holdByLength(runs, longestHoldS)
  for (const run of runs) {
    const holds = stretches
      .slice(run.first, run.last + 1)
      .map((stretch) => evidenceOf(stretch, standbyPa) ?? byLength(run))
    joinShort(holds, stretches, run.first)
    const inCycle = run.followsWork && run.last + 1 < kinds.length && isWork(kinds[run.last + 1])
    const otherwise = inCycle && run.durationS >= longestHoldS ? tooLongIs : 'idle-loaded'
    holds.forEach((hold, k) => {
      const told = evidenceOf(stretches[run.first + k], standbyPa) !== null
      out[run.first + k] = hold ? 'work-holding' : told ? 'idle-loaded' : otherwise
    })
  }
  return out
}
