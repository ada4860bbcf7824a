import type { Machine } from '@/lib/contract/machine'
import type { PhaseKind } from '@/lib/contract/result'
import type { FirstKind } from './classify'
import type { Stretch } from './stretch'

/** Where the machine file does not say how long a hold may last (domain rule). */
const DEFAULT_LONGEST_HOLD_S = 15

export const longestHoldOf = (machine: Machine) => machine.longestHoldS ?? DEFAULT_LONGEST_HOLD_S

/** A hold has at least this share of the pump pressure at the load (common practice, no source). */
const HOLD_LOAD_SHARE = 0.1

interface DeadHeadedRun {
  first: number
  last: number
}

function meanOver(
  stretches: readonly Stretch[],
  run: DeadHeadedRun,
  read: (stretch: Stretch) => number,
): number {
  let sum = 0
  let weight = 0
  for (let i = run.first; i <= run.last; i++) {
    const value = read(stretches[i])
    if (Number.isNaN(value)) continue
    sum += value * stretches[i].durationS
    weight += stretches[i].durationS
  }
  return weight > 0 ? sum / weight : Number.NaN
}

/**
 * Tells holds from loaded idles, in the order of evidence: a cycle or idle signal, the load pressure,
 * else length (a dead-headed stretch right after work and shorter than the longest hold is a hold).
 */
export function tellHolds(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  longestHoldS: number,
): PhaseKind[] {
  const out: PhaseKind[] = kinds.map((kind) => (kind === 'dead-headed' ? 'idle-loaded' : kind))
  for (let i = 0; i < kinds.length; i++) {
    if (kinds[i] !== 'dead-headed') continue
    const run = { first: i, last: i }
    while (
      run.last + 1 < kinds.length &&
      kinds[run.last + 1] === 'dead-headed' &&
      !stretches[run.last + 1].afterGap
    )
      run.last++
    if (isHold(stretches, kinds, run, longestHoldS)) out.fill('work-holding', run.first, run.last + 1)
    i = run.last
  }
  return out
}

function isHold(
  stretches: readonly Stretch[],
  kinds: readonly FirstKind[],
  run: DeadHeadedRun,
  longestHoldS: number,
): boolean {
  const active = meanOver(stretches, run, (s) => s.means.cycleActive)
  if (!Number.isNaN(active)) return active > 0.5
  const idle = meanOver(stretches, run, (s) => s.means.idleSignal)
  if (!Number.isNaN(idle)) return idle < 0.5
  const load = meanOver(stretches, run, (s) => s.means.loadPressurePa)
  if (!Number.isNaN(load)) {
    return load > HOLD_LOAD_SHARE * meanOver(stretches, run, (s) => s.means.pumpPressurePa)
  }
  let durationS = 0
  for (let i = run.first; i <= run.last; i++) durationS += stretches[i].durationS
  const before = run.first > 0 && !stretches[run.first].afterGap ? kinds[run.first - 1] : 'stopped'
  return durationS < longestHoldS && (before === 'work-moving' || before === 'work-metering')
}
