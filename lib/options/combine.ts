import type { Analysis, OptionId } from '@/lib/contract/result'
import { investmentOf } from '@/lib/economics/option-costs'
import type { Ledger } from '@/lib/ledger/ledger'
import { CATALOGUE } from './catalogue'
import { savingOf, worthOf, type YearBasis } from './judge'
import type { OptionContext } from './option'
import type { Replayable, Replayed } from './replay'
import { sampleOf } from './sample'
import type { SupplyChange, SupplyStep } from './supply'
import { electricOfSupplyJ } from './supply-energies'

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

/** Sets judged in money, by energy saved, and sets shown, best first. */
const JUDGED_SETS = 6
const SHOWN_SETS = 3
/** A set must save this much more than without any one of its options to be worth showing. */
const LEAST_GAIN_SHARE = 0.002

export interface FeasibleChange extends Replayable {
  readonly id: OptionId
}

/** A set of options with the change they make together and the order to do them in. */
export interface ChosenSet extends Replayable {
  readonly options: readonly OptionId[]
  readonly order: readonly OptionId[]
}

/** Sets replayed at most: beyond, those that begin with the options that save least are left out. */
const MOST_SETS = 250
/** Steps that sets are compared on; the sets that are shown are replayed on all. */
const MOST_STEPS = 1000

function excludes(a: OptionId, b: OptionId): boolean {
  return EXCLUSIONS.some((pair) => pair.includes(a) && pair.includes(b))
}

/** The changes one after the other, in the catalogue's order. */
function together(changes: readonly FeasibleChange[]): SupplyChange {
  const order = CATALOGUE.map((option) => option.id)
  const sorted = [...changes].sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id))
  return (supply, model) => sorted.reduce<SupplyStep[]>((now, { change }) => change(now, model), [...supply])
}

/** A set is no surer than the least sure of its options. */
function leastSure(set: readonly FeasibleChange[], of: 'replayShareSd' | 'replaySd'): number | undefined {
  const spreads = set.flatMap((one) => one[of] ?? [])
  return spreads.length > 0 ? Math.max(...spreads) : undefined
}

/** What to do first, second …: each next step is the one that saves most after those already done. */
function orderOf(
  set: readonly FeasibleChange[],
  energyJ: (changes: readonly FeasibleChange[]) => number,
): OptionId[] {
  const done: FeasibleChange[] = []
  const left = [...set]
  while (left.length > 0) {
    const energies = left.map((next) => energyJ([...done, next]))
    done.push(...left.splice(energies.indexOf(Math.min(...energies)), 1))
  }
  return done.map(({ id }) => id)
}

/** Sets of options that may go together, each with the energy it leaves; exclusions are cut before anything is replayed. */
function replaySets(
  useful: readonly FeasibleChange[],
  energyJ: (changes: readonly FeasibleChange[]) => number,
  beforeJ: number,
): { set: FeasibleChange[]; savedJ: number }[] {
  const savedBy = new Map<number, number>([[0, 0]])
  const sets: { set: FeasibleChange[]; savedJ: number }[] = []
  let masks = [0]
  while (masks.length > 0) {
    const next: number[] = []
    for (const mask of masks) {
      const members = useful.filter((_, k) => mask & (1 << k))
      for (let k = 32 - Math.clz32(mask); k < useful.length; k++) {
        if (members.some(({ id }) => excludes(id, useful[k].id))) continue
        if (savedBy.size > MOST_SETS) return sets
        const larger = mask | (1 << k)
        const set = [...members, useful[k]]
        const savedJ = beforeJ - energyJ(set)
        savedBy.set(larger, savedJ)
        next.push(larger)
        if (set.length < 2) continue
        const parts = useful.map((_, bit) => 1 << bit).filter((bit) => larger & bit)
        const bestPart = Math.max(...parts.map((bit) => savedBy.get(larger & ~bit) ?? 0))
        if (savedJ > bestPart + LEAST_GAIN_SHARE * beforeJ) sets.push({ set, savedJ })
      }
    }
    masks = next
  }
  return sets
}

/** The sets of two options and more that save most, each replayed as a set and never added up. */
export function bestSets(
  feasible: readonly FeasibleChange[],
  { supply, model }: Pick<OptionContext, 'supply' | 'model'>,
): ChosenSet[] {
  const sample = sampleOf(supply, MOST_STEPS)
  const energyJ = (set: readonly FeasibleChange[]) => electricOfSupplyJ(together(set)(sample, model), model)
  const beforeJ = electricOfSupplyJ(sample, model)
  const useful = feasible
    .map((one) => ({ one, energy: energyJ([one]) }))
    .filter(({ energy }) => energy < beforeJ)
    .sort((a, b) => a.energy - b.energy)
    .map(({ one }) => one)
  const sets = replaySets(useful, energyJ, beforeJ).sort((a, b) => b.savedJ - a.savedJ)
  return sets.slice(0, JUDGED_SETS).map(({ set }) => ({
    options: set.map(({ id }) => id),
    change: together(set),
    replayShareSd: leastSure(set, 'replayShareSd'),
    replaySd: leastSure(set, 'replaySd'),
    order: orderOf(set, energyJ),
  }))
}

/** The sets' rows of the result, ranked by net present value or by energy. */
export function combinationRows(
  sets: readonly ChosenSet[],
  replayed: readonly Replayed[],
  ledger: Ledger,
  year: YearBasis,
  ranking: Analysis['ranking'],
): Analysis['combinations'] {
  const rows = sets.map(({ options, order }, k) => {
    const saving = savingOf(replayed[k], ledger, year)
    const costs = options.map((id) => investmentOf(id, ledger.machine, year.site).cost)
    const sum = (part: 0 | 1 | 2) => costs.reduce((total, cost) => total + cost[part], 0)
    const { netPresentValue } = worthOf(saving, [sum(0), sum(1), sum(2)], year.site)
    return {
      options: [...options],
      savedKWhPerYear: saving.savedKWhPerYear,
      netPresentValue,
      order: [...order],
    }
  })
  const worth = (row: (typeof rows)[number]) =>
    ranking === 'energy'
      ? row.savedKWhPerYear.value
      : (row.netPresentValue?.value ?? Number.NEGATIVE_INFINITY)
  return rows.sort((a, b) => worth(b) - worth(a)).slice(0, SHOWN_SETS)
}
