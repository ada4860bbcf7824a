import type { PhaseKind } from '@/lib/contract/result'
import { ratioSpread } from '@/lib/numeric/ratio-spread'
import type { Cycle } from '@/lib/phases/cycles'
import type { Step } from '@/lib/phases/stretch'
import { J_PER_KWH } from '@/lib/units'
import { energyInCycles } from './cycle-energy'
import { electricOfStepJ, type Ledger } from './ledger'

export const IDLE_KINDS: readonly PhaseKind[] = ['idle-loaded', 'idle-unloaded']
/** Longest holds at which idle energy is shown, since short idles can pass for holds (domain rule). */
const SHOWN_LONGEST_HOLDS_S = [5, 15, 30]

/** Electric energy of the steps that would be idle; other kinds, the same steps. */
function idleJ(ledger: Ledger, steps: readonly Step[]): number {
  return steps.reduce(
    (sum, step, k) => sum + (IDLE_KINDS.includes(step.kind) ? electricOfStepJ(ledger, k) : 0),
    0,
  )
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

/** Relative standard deviation of a year's idle energy from seeing only these cycles; null with fewer than three. */
export function idleSamplingShareSd(ledger: Ledger, cycles: readonly Cycle[]): number | null {
  const { steps } = ledger.segmentation
  const idle = energyInCycles(ledger, cycles, (step) =>
    IDLE_KINDS.includes(steps[step].kind) ? electricOfStepJ(ledger, step) : 0,
  )
  return ratioSpread(
    idle,
    cycles.map((cycle) => cycle.endS - cycle.startS),
  )
}
