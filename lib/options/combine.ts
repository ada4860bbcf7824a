import type { OptionId } from '@/lib/contract/result'
import { CATALOGUE } from './catalogue'
import { type SupplyChange, together } from './change'
import type { OptionContext } from './option'
import type { Replayable } from './replay'

/** Ways to serve or unload the machine of which one circuit can have only one. */
const ONE_OF: readonly OptionId[] = [
  'vent-relief-at-idle',
  'open-centre-unloading',
  'high-low-pumps',
  'pressure-compensated-pump',
  'load-sensing-pump',
  'variable-speed-drive',
  'accumulator-charging',
]

/** Every two options that do the same job, or take the ground from under each other: never in one set. */
const EXCLUSIONS: readonly (readonly [OptionId, OptionId])[] = [
  ...ONE_OF.flatMap((a, i) => ONE_OF.slice(i + 1).map((b): [OptionId, OptionId] => [a, b])),
  // Nothing passes the relief of these, so its setting saves nothing, and a second one serves no step.
  ['second-relief-setting', 'pressure-compensated-pump'],
  ['lower-relief-setting', 'pressure-compensated-pump'],
  ['second-relief-setting', 'load-sensing-pump'],
  ['lower-relief-setting', 'load-sensing-pump'],
  ['second-relief-setting', 'accumulator-charging'],
  ['lower-relief-setting', 'accumulator-charging'],
  ['second-relief-setting', 'variable-speed-drive'],
  ['lower-relief-setting', 'variable-speed-drive'],
  // The unloading pressure of a pair was chosen for the relief as it is set.
  ['second-relief-setting', 'high-low-pumps'],
  ['lower-relief-setting', 'high-low-pumps'],
  // Each brings a pump of its own size.
  ['smaller-pump', 'high-low-pumps'],
  ['smaller-pump', 'pressure-compensated-pump'],
  ['smaller-pump', 'load-sensing-pump'],
  ['smaller-pump', 'variable-speed-drive'],
  ['smaller-pump', 'accumulator-charging'],
  // A pump that is replaced is not restored as well.
  ['restore-pump', 'smaller-pump'],
  ['restore-pump', 'high-low-pumps'],
  ['restore-pump', 'pressure-compensated-pump'],
  ['restore-pump', 'load-sensing-pump'],
  ['restore-pump', 'accumulator-charging'],
  // A stopped motor charges nothing: whether the charge lasts would have to be sized anew.
  ['stop-motor-at-idle', 'accumulator-charging'],
]

/** Sets judged in money, by energy saved. */
const JUDGED_SETS = 6
/** A set must save this much more than without any one of its options to be worth showing. */
const LEAST_GAIN_SHARE = 0.002

export interface FeasibleChange extends Replayable {
  readonly id: OptionId
}

/** A set of options with the change they make together and the order to do them in. */
export interface ChosenSet extends Replayable {
  readonly options: readonly OptionId[]
  readonly order: readonly OptionId[]
  /** What is done after each step of the order: the last is the whole set. */
  readonly steps: readonly Replayable[]
}

/** Sets replayed at most: beyond, those that begin with the options that save least are left out. */
const MOST_SETS = 250

function excludes(a: OptionId, b: OptionId): boolean {
  return EXCLUSIONS.some((pair) => pair.includes(a) && pair.includes(b))
}

/** The changes one after the other, in the catalogue's order. */
function allOf(changes: readonly FeasibleChange[]): SupplyChange {
  const order = CATALOGUE.map((option) => option.id)
  const sorted = [...changes].sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id))
  return together(sorted.map(({ change }) => change))
}

/** A set is no surer than the least sure of its options. */
function leastSure(set: readonly FeasibleChange[], of: 'replayShareSd' | 'replaySd'): number | undefined {
  const spreads = set.flatMap((one) => one[of] ?? [])
  return spreads.length > 0 ? Math.max(...spreads) : undefined
}

/** Energy saved by every set that may go together, J, by its members' bits; every part of a set stands there too. */
type SavedBySet = ReadonlyMap<number, number>

const bitsOf = (mask: number, count: number) =>
  Array.from({ length: count }, (_, k) => k).filter((k) => mask & (1 << k))

/** What to do first, second …: each next step is the one that saves most after those already done. */
function orderOf(mask: number, count: number, savedBy: SavedBySet): number[] {
  const done: number[] = []
  const left = bitsOf(mask, count)
  let doneMask = 0
  while (left.length > 0) {
    const saved = left.map((next) => savedBy.get(doneMask | (1 << next)) ?? 0)
    const [next] = left.splice(saved.indexOf(Math.max(...saved)), 1)
    doneMask |= 1 << next
    done.push(next)
  }
  return done
}

/** Replays every set of options that may go together; exclusions are cut before anything is replayed. */
function replaySets(
  useful: readonly FeasibleChange[],
  energyJ: (changes: readonly FeasibleChange[]) => number,
  beforeJ: number,
): SavedBySet {
  const savedBy = new Map<number, number>([[0, 0]])
  let masks = [0]
  while (masks.length > 0) {
    const next: number[] = []
    for (const mask of masks) {
      const members = useful.filter((_, k) => mask & (1 << k))
      for (let k = 32 - Math.clz32(mask); k < useful.length; k++) {
        if (members.some(({ id }) => excludes(id, useful[k].id))) continue
        if (savedBy.size > MOST_SETS) return savedBy
        savedBy.set(mask | (1 << k), beforeJ - energyJ([...members, useful[k]]))
        next.push(mask | (1 << k))
      }
    }
    masks = next
  }
  return savedBy
}

/** A set that could be carried out, with what each step of its order saves as a share of the input. */
export interface ConsideredSet {
  readonly order: readonly OptionId[]
  readonly savedShares: readonly number[]
}

export interface ChosenSets {
  /** Those of two options and more that save most. */
  readonly sets: readonly ChosenSet[]
  /** The one that was asked for by `choose`, of one option or more. */
  readonly chosen: ChosenSet | null
}

/**
 * The sets of two options and more that save most, each replayed as a set and never added up.
 * @param choose picks one of all sets that were replayed, or none
 */
export function bestSets(
  feasible: readonly FeasibleChange[],
  { roughAt }: Pick<OptionContext, 'roughAt'>,
  choose: (sets: readonly ConsideredSet[]) => number | null = () => null,
): ChosenSets {
  // Compared on few points; the sets that are shown are replayed on all.
  const rough = roughAt(allOf(feasible).agesS ?? [])
  const energyJ = (set: readonly FeasibleChange[]) => rough.with(allOf(set)).electricJ
  const beforeJ = rough.electricJ
  const useful = feasible
    .map((one) => ({ one, energy: energyJ([one]) }))
    .filter(({ energy }) => energy < beforeJ)
    .sort((a, b) => a.energy - b.energy)
    .map(({ one }) => one)
  const savedBy = replaySets(useful, energyJ, beforeJ)
  const masks = [...savedBy.keys()].filter((mask) => mask > 0)
  const saved = (mask: number) => savedBy.get(mask) ?? 0
  const withoutOne = (mask: number) => bitsOf(mask, useful.length).map((bit) => saved(mask & ~(1 << bit)))
  const chosenSet = (mask: number): ChosenSet => {
    const order = orderOf(mask, useful.length, savedBy).map((k) => useful[k])
    const replayable = (members: readonly FeasibleChange[]): Replayable => ({
      change: allOf(members),
      replayShareSd: leastSure(members, 'replayShareSd'),
      replaySd: leastSure(members, 'replaySd'),
    })
    return {
      options: bitsOf(mask, useful.length).map((k) => useful[k].id),
      ...replayable(order),
      order: order.map(({ id }) => id),
      steps: order.map((_, k) => replayable(order.slice(0, k + 1))),
    }
  }
  const considered = (mask: number): ConsideredSet => {
    const order = orderOf(mask, useful.length, savedBy)
    let done = 0
    const savedShares = order.map((k) => {
      const before = saved(done)
      done |= 1 << k
      return (saved(done) - before) / beforeJ
    })
    return { order: order.map((k) => useful[k].id), savedShares }
  }
  const picked = choose(masks.map(considered))
  return {
    sets: masks
      .filter((mask) => (mask & (mask - 1)) !== 0)
      .filter((mask) => saved(mask) > Math.max(...withoutOne(mask)) + LEAST_GAIN_SHARE * beforeJ)
      .sort((a, b) => saved(b) - saved(a))
      .slice(0, JUDGED_SETS)
      .map(chosenSet),
    chosen: picked === null ? null : chosenSet(masks[picked]),
  }
}
