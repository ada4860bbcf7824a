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

/**
 * Tells holds from loaded idles, in the order of evidence: a cycle or idle signal, the load pressure (a
 * load-sensing pump shows it in its own: above `standbyPa`, nil for other pumps), else length (a dead-headed stretch right after work and shorter than the longest hold is a hold).
 */
export function tellHolds(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  longestHoldS: number,
  standbyPa: number,
): PhaseKind[] {
  const out: PhaseKind[] = kinds.map((kind) => (kind === 'dead-headed' ? 'idle-loaded' : kind))
  for (let first = 0; first < kinds.length; first++) {
    if (kinds[first] !== 'dead-headed') continue
    let last = first
    let durationS = stretches[first].durationS
    while (kinds[last + 1] === 'dead-headed' && !stretches[last + 1].afterGap) {
      last++
      durationS += stretches[last].durationS
    }
    const before = first > 0 && !stretches[first].afterGap ? kinds[first - 1] : 'stopped'
    const byLength = durationS < longestHoldS && (before === 'work-moving' || before === 'work-metering')
    const holds = stretches
      .slice(first, last + 1)
      .map((stretch) => evidenceOf(stretch, standbyPa) ?? byLength)
    joinShort(holds, stretches, first)
    holds.forEach((hold, k) => {
      if (hold) out[first + k] = 'work-holding'
    })
    first = last
  }
  return out
}
