import { CRACK_RATIO } from '@/lib/machine/relief'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'

type Kind = keyof typeof CRACK_RATIO

/** Reliefs that crack early, and how early (common practice, no source): a share of machines, anywhere down to a ratio. */
const EARLY_SHARE = 0.15
const EARLIEST_RATIO = 0.45
/** Where a valve's kind may open; what lies below is early (standard deviations of the kind's ratio). */
const SOUND_SDS = 2
const LAST_RATIO = 0.995
const STEP = 0.0025
/** More levels than these say no more: a machine's feeds are not drawn independently of each other. */
const MOST_LEVELS = 2
/** A machine that meters takes less than this share of the flow: else it moves. */
const MOST_METERED_SHARE = 0.97
/** How likely levels below where the kind opens are loads that come back alike, not the relief (common practice, no source). */
const LOAD_SHARE = 0.2

/**
 * What the kind says stands where it lies between these shares of what the levels allow, else the nearer one of them; of a
 * valve that opens early it says nothing, and the middle counts.
 */
const MIDDLE = [0.3, 0.7]

/** A span as a share of the setting, with its 95 % interval. */
export interface SpanTold {
  readonly low: number
  readonly value: number
  readonly high: number
}

/** Levels of pressure at which oil is metered, as depths below the dead-headed one, shares of the setting. */
export interface MeteringDepths {
  /** Where a valve of its kind may well be open. */
  readonly sure: readonly number[]
  /** Further down, where only an early valve is open. */
  readonly early: readonly number[]
}

/** Density of depths where a metered flow is as likely to be any share of what the pump gives; nil where the valve is shut. */
function byMetering(depths: readonly number[], reach: number): number {
  const deepest = Math.max(0, ...depths)
  if (deepest > MOST_METERED_SHARE * reach) return 0
  return reach ** -Math.min(MOST_LEVELS, depths.length)
}

/**
 * Span of a relief (setting less cracking, as a share of the setting) as its kind and the depths of metering levels tell
 * it, 95 % interval: a relief that passes a part of the flow stands below its dead-headed pressure by that part of its
 * span, so no level lies deeper than the span, and a span much longer than the deepest would be a strange coincidence.
 * @param liftAtDeadHead flow of the dead-headed pump over the relief's rated flow
 */
export function spanFromLevels(
  kind: Kind,
  { sure, early }: MeteringDepths,
  liftAtDeadHead: number,
): SpanTold {
  const { mean, sd } = CRACK_RATIO[kind]
  const earliest = mean - SOUND_SDS * sd
  const spans: number[] = []
  const weights: number[] = []
  for (let ratio = EARLIEST_RATIO; ratio <= LAST_RATIO; ratio += STEP) {
    const sound =
      ((1 - EARLY_SHARE) * Math.exp(-0.5 * ((ratio - mean) / sd) ** 2)) / (sd * Math.sqrt(2 * Math.PI))
    const isEarly = ratio < earliest ? EARLY_SHARE / (earliest - EARLIEST_RATIO) : 0
    const span = 1 - ratio
    const reach = span * liftAtDeadHead
    const bothMeter = byMetering([...sure, ...early], reach)
    const loads = byMetering(sure, reach)
    const seen = early.length === 0 ? bothMeter : LOAD_SHARE * loads + (1 - LOAD_SHARE) * bothMeter
    spans.push(span)
    weights.push((sound + isEarly) * seen)
  }
  if (!weights.some((weight) => weight > 0))
    return spanFromLevels(kind, { sure: [], early: [] }, liftAtDeadHead)
  const at = (share: number) => weightedQuantile(spans, weights, share)
  const [lower, upper] = (early.length === 0 ? MIDDLE : [0.5, 0.5]).map(at)
  return { low: at(0.025), value: Math.min(Math.max(1 - mean, lower), upper), high: at(0.975) }
}
