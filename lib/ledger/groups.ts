import type { PhaseKind } from '@/lib/contract/result'
import { meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { steadySteps } from './steady-steps'

/** Steps of one kind at about one pressure and current, with their time-weighted mean readings. */
export interface Group {
  readonly kind: PhaseKind
  readonly durationS: number
  readonly samples: number
  readonly means: StretchMeans
}

/** More than there are states of a machine's unloading pumps. */
const MOST_STATES = 1024

/**
 * Groups steady steps by kind and pressure band, so that what is systematic counts once and not once a
 * cycle. `bandPa` is the width of a pressure band.
 */
export function groupSteps(
  steps: readonly Step[],
  names: readonly (keyof StretchMeans)[],
  bandPa: number,
): Group[] {
  const none = () => ({
    durationS: 0,
    samples: 0,
    sums: new Float64Array(names.length),
    weights: new Float64Array(names.length),
  })
  const ofKinds = new Map<PhaseKind, Map<number, ReturnType<typeof none>>>()
  // Pumps in different states give different flows at one pressure.
  const byState = names.includes('pumpState')
  for (const { kind, durationS, means, from, to } of steadySteps(steps)) {
    const bands = ofKinds.get(kind) ?? new Map<number, ReturnType<typeof none>>()
    ofKinds.set(kind, bands)
    const pressure = Math.round(means.pumpPressurePa / bandPa)
    const band = byState ? MOST_STATES * pressure + means.pumpState : pressure
    const group = bands.get(band) ?? none()
    bands.set(band, group)
    group.durationS += durationS
    group.samples += to - from
    for (let k = 0; k < names.length; k++) {
      const value = means[names[k]]
      if (Number.isNaN(value)) continue
      group.sums[k] += value * durationS
      group.weights[k] += durationS
    }
  }
  const meanOf = ({ sums, weights }: ReturnType<typeof none>, name: keyof StretchMeans) => {
    const k = names.indexOf(name)
    return k < 0 ? Number.NaN : sums[k] / weights[k]
  }
  return [...ofKinds].flatMap(([kind, bands]) =>
    [...bands.values()].map((group) => ({
      kind,
      durationS: group.durationS,
      samples: group.samples,
      means: meansBy((name) => meanOf(group, name)),
    })),
  )
}
