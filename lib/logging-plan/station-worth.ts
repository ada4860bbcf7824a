import type { OptionId } from '@/lib/contract/option-result'
import { STREAMS, type Stream } from '@/lib/contract/result'
import type { GroundRule } from '@/lib/explain/merged-rules'
import { signature } from '@/lib/explain/merged-rules'
import type { Mistold, Rehearsal } from './rehearse'

/** A line of the account that a sensor narrows: half-widths of its 95 % interval over the input, with and without it. */
export interface Narrowed {
  readonly stream: 'electricIn' | Stream
  readonly withIt: number
  /** Null where the line cannot be told at all without it. */
  readonly without: number | null
}

/** What a sensor is worth among the others, by the engine's own account of a visit with and without it. */
export interface StationWorth {
  /** Half-width of the waste over it, the wider side; null where nothing can be told. */
  readonly wasteWith: number | null
  readonly wasteWithout: number | null
  /** Lines that it determines or narrows, the most important first. */
  readonly narrows: readonly Narrowed[]
  /** Time that passes for another kind of phase without it. */
  readonly mistold: readonly Mistold[]
  /** Options that cannot be judged without it. */
  readonly unjudged: readonly OptionId[]
  /** How flows and powers are reached with it, where that differs, and how without it. */
  readonly rulesWith: readonly GroundRule[]
  readonly rulesWithout: readonly GroundRule[]
}

/** An interval that is this much wider without a sensor is worth a word, in shares of input and of itself. */
const LEAST_CHANGE = 0.002
const LEAST_RATIO = 1.15
const LINES = ['electricIn', ...STREAMS] as const

export const wasteHalf = (of: Rehearsal | null): number | null =>
  of?.wasteReach ? Math.max(of.wasteReach.below, of.wasteReach.above) : null

function narrowedBy(withIt: Rehearsal, without: Rehearsal | null): Narrowed[] {
  const narrows = LINES.flatMap((stream): Narrowed[] => {
    const known = withIt.streams[stream]
    if (!known) return []
    const other = without?.streams[stream] ?? null
    if (!other) return [{ stream, withIt: known.halfShare, without: null }]
    const isWider =
      other.halfShare > LEAST_RATIO * known.halfShare && other.halfShare - known.halfShare > LEAST_CHANGE
    return isWider ? [{ stream, withIt: known.halfShare, without: other.halfShare }] : []
  })
  const gain = ({ withIt: now, without: then }: Narrowed) =>
    then === null ? Number.POSITIVE_INFINITY : then - now
  return narrows.sort((a, b) => (gain(b) === gain(a) ? 0 : gain(b) - gain(a)))
}

const notIn = (rules: readonly GroundRule[], others: readonly GroundRule[]) =>
  rules.filter((rule) => !others.some((other) => signature(other) === signature(rule)))

/** Compares a visit with a sensor to the same visit without it; `without` null where no account can be had then. */
export function stationWorth(withIt: Rehearsal, without: Rehearsal | null): StationWorth {
  const asTold = (one: Mistold) => withIt.mistold.some(({ kind, as }) => kind === one.kind && as === one.as)
  return {
    wasteWith: wasteHalf(withIt),
    wasteWithout: wasteHalf(without),
    narrows: narrowedBy(withIt, without),
    mistold: without ? without.mistold.filter((one) => !asTold(one)) : [],
    unjudged: without ? without.unjudged.filter((id) => !withIt.unjudged.includes(id)) : [],
    rulesWith: without ? notIn(withIt.rules, without.rules) : [...withIt.rules],
    rulesWithout: without ? notIn(without.rules, withIt.rules) : [],
  }
}
