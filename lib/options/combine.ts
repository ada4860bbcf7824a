import type { Analysis, OptionId } from '@/lib/contract/result'
import { investmentOf } from '@/lib/economics/option-costs'
import type { Ledger } from '@/lib/ledger/ledger'
import { CATALOGUE } from './catalogue'
import { savingOf, worthOf, type YearBasis } from './judge'
import { electricJ, type Replayed } from './replay'
import type { SupplyChange, SupplyStep } from './supply'

/** Options that do the same job, or take the ground from under each other: never in one set. */
const EXCLUSIONS: readonly (readonly [OptionId, OptionId])[] = [
  ['vent-relief-at-idle', 'open-centre-unloading'],
  ['vent-relief-at-idle', 'pressure-compensated-pump'],
  ['open-centre-unloading', 'pressure-compensated-pump'],
  ['second-relief-setting', 'pressure-compensated-pump'],
  ['lower-relief-setting', 'pressure-compensated-pump'],
]

/** Sets judged in money, by energy saved, and sets shown, best first. */
const JUDGED_SETS = 6
const SHOWN_SETS = 3
/** A set must save this much more than without any one of its options to be worth showing. */
const LEAST_GAIN_SHARE = 0.002

export interface FeasibleChange {
  readonly id: OptionId
  readonly change: SupplyChange
}

/** A set of options with the change they make together and the order to do them in. */
export interface ChosenSet {
  readonly options: readonly OptionId[]
  readonly change: SupplyChange
  readonly order: readonly OptionId[]
}

function compatible(ids: readonly OptionId[]): boolean {
  return !EXCLUSIONS.some(([a, b]) => ids.includes(a) && ids.includes(b))
}

/** The changes one after the other, in the catalogue's order. */
function together(changes: readonly FeasibleChange[]): SupplyChange {
  const order = CATALOGUE.map((option) => option.id)
  const sorted = [...changes].sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id))
  return (supply, model) => sorted.reduce<SupplyStep[]>((now, { change }) => change(now, model), [...supply])
}

/** What to do first, second …: each next step is the one that saves most after those already done. */
function orderOf(set: readonly FeasibleChange[], supply: readonly SupplyStep[], ledger: Ledger): OptionId[] {
  const done: FeasibleChange[] = []
  const left = [...set]
  while (left.length > 0) {
    const energies = left.map((next) =>
      electricJ(together([...done, next])(supply, ledger.model), ledger.model),
    )
    done.push(...left.splice(energies.indexOf(Math.min(...energies)), 1))
  }
  return done.map(({ id }) => id)
}

/** The sets of two options and more that save most, each replayed as a set and never added up. */
export function bestSets(
  feasible: readonly FeasibleChange[],
  supply: readonly SupplyStep[],
  ledger: Ledger,
): ChosenSet[] {
  const energyJ = (set: readonly FeasibleChange[]) =>
    electricJ(together(set)(supply, ledger.model), ledger.model)
  const beforeJ = electricJ(supply, ledger.model)
  const useful = feasible.filter((one) => energyJ([one]) < beforeJ)
  const savedBy = new Map<number, number>([[0, 0]])
  const sets: { set: FeasibleChange[]; savedJ: number }[] = []
  for (let mask = 1; mask < 1 << useful.length; mask++) {
    const set = useful.filter((_, k) => mask & (1 << k))
    if (!compatible(set.map(({ id }) => id))) continue
    const savedJ = beforeJ - energyJ(set)
    savedBy.set(mask, savedJ)
    if (set.length < 2) continue
    const parts = useful.map((_, k) => 1 << k).filter((bit) => mask & bit)
    const bestPart = Math.max(...parts.map((bit) => savedBy.get(mask & ~bit) ?? 0))
    if (savedJ > bestPart + LEAST_GAIN_SHARE * beforeJ) sets.push({ set, savedJ })
  }
  sets.sort((a, b) => b.savedJ - a.savedJ)
  return sets.slice(0, JUDGED_SETS).map(({ set }) => ({
    options: set.map(({ id }) => id),
    change: together(set),
    order: orderOf(set, supply, ledger),
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
