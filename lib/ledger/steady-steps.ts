import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { Step } from '@/lib/phases/stretch'

/**
 * A step shorter than this is more transition than steady state: valves move and meters follow for some tenths of a
 * second (common practice, no source), each at its own pace, and no balance holds between their readings.
 */
const LEAST_STEP_S = 0.5
const LEAST_STEP_SAMPLES = 3

/**
 * Steps whose mean readings belong together. However fast the sampling, pieces of a transition are none of
 * them; only where a kind never lasts longer do its shorter steps stand in.
 */
export function steadySteps(steps: readonly Step[]): Step[] {
  const leastS = Object.fromEntries(PHASE_KINDS.map((kind) => [kind, 0])) as Record<PhaseKind, number>
  for (const { kind, durationS } of steps) {
    if (durationS > leastS[kind]) leastS[kind] = Math.min(LEAST_STEP_S, durationS)
  }
  const steady: Step[] = []
  for (const step of steps) {
    const { kind, durationS, from, to } = step
    if (to - from >= LEAST_STEP_SAMPLES && durationS >= leastS[kind] - 1e-9) steady.push(step)
  }
  return steady
}
