import type { PhaseKind } from '@/lib/contract/result'
import { MEAN_NAMES, meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { steadySteps } from './steady-steps'

/** Steps of one kind at about one pressure and current, with their time-weighted mean readings. */
export interface Group {
  readonly kind: PhaseKind
  readonly durationS: number
  readonly means: StretchMeans
}

/**
 * Groups steady steps by kind and pressure band, so that what is systematic counts once and not once a
 * cycle. `bandPa` is the width of a pressure band.
 */
export function groupSteps(steps: readonly Step[], bandPa: number): Group[] {
  const groups = new Map<
    string,
    { kind: PhaseKind; durationS: number; sums: Float64Array; weights: Float64Array }
  >()
  for (const step of steadySteps(steps)) {
    const key = `${step.kind} ${Math.round(step.means.pumpPressurePa / bandPa)}`
    const group = groups.get(key) ?? {
      kind: step.kind,
      durationS: 0,
      sums: new Float64Array(MEAN_NAMES.length),
      weights: new Float64Array(MEAN_NAMES.length),
    }
    groups.set(key, group)
    group.durationS += step.durationS
    MEAN_NAMES.forEach((name, k) => {
      const value = step.means[name]
      if (Number.isNaN(value)) return
      group.sums[k] += value * step.durationS
      group.weights[k] += step.durationS
    })
  }
  return [...groups.values()].map(({ kind, durationS, sums, weights }) => ({
    kind,
    durationS,
    means: meansBy((_, k) => sums[k] / weights[k]),
  }))
}
