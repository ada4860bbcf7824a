import type { Machine } from '@/lib/contract/machine'
import type { PhaseKind } from '@/lib/contract/result'

/** Kinds that a rehearsed visit is made of. */
export const MIXED_KINDS = [
  'idle-unloaded',
  'idle-loaded',
  'work-moving',
  'work-metering',
  'work-holding',
] as const satisfies readonly PhaseKind[]
export type MixedKind = (typeof MIXED_KINDS)[number]

/** Share of running time that a machine spends in each kind; adds up to 1. */
export interface DutyMix {
  readonly shares: Readonly<Record<MixedKind, number>>
  /** Whether a log showed it, or it is assumed. */
  readonly origin: 'log' | 'assumed'
}

/** Common practice, no source: half of the running time idle, half at work. */
const ASSUMED = { idle: 0.45, moving: 0.2, metering: 0.25, holding: 0.1 } as const

/** What a machine does of which nothing was logged. */
export function assumedMix({ unloading }: Pick<Machine, 'unloading'>): DutyMix {
  const loaded = unloading.kind === 'none'
  return {
    shares: {
      'idle-unloaded': loaded ? 0 : ASSUMED.idle,
      'idle-loaded': loaded ? ASSUMED.idle : 0,
      'work-moving': ASSUMED.moving,
      'work-metering': ASSUMED.metering,
      'work-holding': ASSUMED.holding,
    },
    origin: 'assumed',
  }
}

/** What logs show of it, by hours of each kind; assumed where the machine never ran in them. */
export function mixOf(
  hours: Readonly<Partial<Record<PhaseKind, number>>>,
  machine: Pick<Machine, 'unloading'>,
): DutyMix {
  const total = MIXED_KINDS.reduce((sum, kind) => sum + (hours[kind] ?? 0), 0)
  if (!(total > 0)) return assumedMix(machine)
  const shares = Object.fromEntries(MIXED_KINDS.map((kind) => [kind, (hours[kind] ?? 0) / total]))
  return { shares: shares as Record<MixedKind, number>, origin: 'log' }
}
