import type { PhaseKind } from '@/lib/contract/result'
import type { Step } from '@/lib/phases/stretch'
import { J_PER_KWH } from '@/lib/units'
import type { Ledger } from './ledger'

export const IDLE_KINDS: readonly PhaseKind[] = ['idle-loaded', 'idle-unloaded']
/** Longest holds at which idle energy is shown, since short idles can pass for holds (domain rule). */
const SHOWN_LONGEST_HOLDS_S = [5, 15, 30]

function idleJ(ledger: Ledger, steps: readonly Step[]): number {
  const { electricIn } = ledger.series
  let sum = 0
  for (const step of steps) {
    if (!IDLE_KINDS.includes(step.kind)) continue
    for (let i = step.from; i < step.to; i++) sum += electricIn[i] * ledger.trace.holdS[i]
  }
  return sum
}

/** Idle electric energy in kWh as it would be with other longest holds. */
export function idleByLongestHold(ledger: Ledger): Record<string, number> {
  return Object.fromEntries(
    SHOWN_LONGEST_HOLDS_S.map((seconds) => [
      String(seconds),
      idleJ(ledger, ledger.segmentation.stepsWithLongestHold(seconds)) / J_PER_KWH,
    ]),
  )
}

/** Seconds spent in phases of the kinds. */
export function durationOf(steps: readonly Step[], kinds: readonly PhaseKind[]): number {
  return steps.reduce((sum, step) => sum + (kinds.includes(step.kind) ? step.durationS : 0), 0)
}
