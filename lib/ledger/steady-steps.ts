import type { PhaseKind } from '@/lib/contract/result'
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
  const longest = new Map<PhaseKind, number>()
  for (const { kind, durationS } of steps) {
    if (durationS > (longest.get(kind) ?? 0)) longest.set(kind, durationS)
  }
  return steps.filter(({ kind, durationS, from, to }) => {
    const leastS = Math.min(LEAST_STEP_S, longest.get(kind) ?? 0)
    return to - from >= LEAST_STEP_SAMPLES && durationS >= leastS - 1e-9
  })
}
