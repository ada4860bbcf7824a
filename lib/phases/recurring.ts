import type { PhaseKind } from '@/lib/contract/result'
import type { Levels } from './levels'
import type { Stretch } from './stretch'

/** Loads are looked at down to this share of the dead-head pressure; no relief opens earlier. */
const LOWEST_SHARE = 0.5
/** A shorter stretch may be the middle of a change. */
const LEAST_S = 2
/** As often as this a level has to come back. */
const LEAST_TIMES = 3
/** Stretches of one level lie within this share of the dead-head pressure of their mean (1 sd, beside noise). */
const ALIKE_SHARE = 0.006
/** Levels further apart are two. */
const APART_SHARE = 0.01
/** Between a level and where sound valves open, this much of the time must be spent at levels that recur. */
const RECURRING_TIME_SHARE = 0.8
/** A stretch this near to a level, as a share of its pressure, that is not of it, shows that the level is a load's. */
const NEAR_SHARE = 0.06
/** Loads differ where they scatter by more than this share of themselves (1 sd, beside noise), for so much of their time. */
const DIFFERENT_SHARE = 0.012
const DIFFERENT_TIME_SHARE = 0.5
/** The opening is taken this much lower than the lowest level, for its stretches scatter. */
const BELOW_SHARE = 0.01

/** Stretches at about one pressure, next to each other once sorted by it. */
interface Level {
  readonly durationS: number
  readonly lowestPa: number
  /** It comes back alike: often enough, and always within what noise and a flow control's setting make. */
  readonly recurs: boolean
  /** It comes back, a little different every time. */
  readonly varies: boolean
}

function levelOf(
  stretches: readonly Stretch[],
  deadHeadPa: number,
  errorOf: (stretch: Stretch) => number,
): Level {
  const durationS = stretches.reduce((sum, stretch) => sum + stretch.durationS, 0)
  const mean = (of: (stretch: Stretch) => number) =>
    stretches.reduce((sum, stretch) => sum + of(stretch) * stretch.durationS, 0) / durationS
  const meanPa = mean(({ means }) => means.pumpPressurePa)
  const variance = mean(({ means }) => (means.pumpPressurePa - meanPa) ** 2)
  const allowed = Math.hypot(ALIKE_SHARE * deadHeadPa, Math.sqrt(mean((stretch) => errorOf(stretch) ** 2)))
  const noise = allowed ** 2 - (ALIKE_SHARE * deadHeadPa) ** 2
  const often = stretches.length >= LEAST_TIMES
  return {
    durationS,
    lowestPa: Math.min(...stretches.map(({ means }) => means.pumpPressurePa)),
    recurs: often && variance <= allowed ** 2,
    varies: !often || variance > noise + (DIFFERENT_SHARE * meanPa) ** 2,
  }
}

const timeOf = (of: readonly { readonly durationS: number }[]) =>
  of.reduce((sum, { durationS }) => sum + durationS, 0)

function levelsOf(
  stretches: readonly Stretch[],
  deadHeadPa: number,
  errorOf: (stretch: Stretch) => number,
): Level[] {
  const falling = [...stretches].sort((a, b) => b.means.pumpPressurePa - a.means.pumpPressurePa)
  const levels: Level[] = []
  for (let first = 0; first < falling.length; ) {
    let end = first + 1
    const pressurePa = (k: number) => falling[k].means.pumpPressurePa
    while (end < falling.length && pressurePa(end - 1) - pressurePa(end) < APART_SHARE * deadHeadPa) end++
    levels.push(levelOf(falling.slice(first, end), deadHeadPa, errorOf))
    first = end
  }
  return levels
}

/**
 * Pressure just below the lowest level that comes back alike, Pa, below where valves of the kind open; null where there
 * is none. A relief that passes what a flow control leaves holds its pressure whatever the load, so that it comes back
 * alike in every cycle; a load is a little different every time (common practice, no source). Where no load of the log is
 * seen to differ, nothing tells.
 * @param unloadedPa below it nothing is moved
 */
export function lowestRecurringPa(
  stretches: readonly Stretch[],
  { deadHeadPa, soundPa, unloadedPa }: Record<'deadHeadPa' | 'soundPa' | 'unloadedPa', number>,
  errorOf: (stretch: Stretch) => number,
): number | null {
  const between = (lowPa: number, highPa: number, leastS: number) =>
    stretches.filter(
      ({ durationS, means: { pumpPressurePa } }) =>
        durationS >= leastS && pumpPressurePa >= lowPa && pumpPressurePa < highPa,
    )
  const levels = levelsOf(between(LOWEST_SHARE * deadHeadPa, soundPa, LEAST_S), deadHeadPa, errorOf)
  const isAlone = ({ lowestPa }: Level) =>
    levels.every(
      ({ recurs, lowestPa: other }) => recurs || Math.abs(other - lowestPa) > NEAR_SHARE * lowestPa,
    )
  let lowest: Level | null = null
  let recurringS = 0
  for (const level of levels) {
    if (!level.recurs || !isAlone(level)) continue
    recurringS += level.durationS
    const allS = timeOf(between(level.lowestPa, soundPa, 0))
    if (recurringS >= RECURRING_TIME_SHARE * allS) lowest = level
  }
  if (!lowest) return null
  const below = between(unloadedPa, lowest.lowestPa - APART_SHARE * deadHeadPa, LEAST_S / 2)
  const loads = levelsOf(below, deadHeadPa, errorOf)
  const differentS = timeOf(loads.filter(({ varies }) => varies))
  const loadsDiffer = below.length >= LEAST_TIMES && differentS >= DIFFERENT_TIME_SHARE * timeOf(loads)
  return loadsDiffer ? lowest.lowestPa - BELOW_SHARE * deadHeadPa : null
}

/** Kinds as they would be if levels that come back alike below where valves open were loads; null where there are none. */
export function asLoads(
  stretches: readonly Stretch[],
  kinds: readonly PhaseKind[],
  { earlyBelowPa }: Pick<Levels, 'earlyBelowPa'>,
): PhaseKind[] | null {
  const out = kinds.map((kind, k) =>
    kind === 'work-metering' && stretches[k].means.pumpPressurePa < earlyBelowPa ? 'work-moving' : kind,
  )
  return out.some((kind, k) => kind !== kinds[k]) ? out : null
}
