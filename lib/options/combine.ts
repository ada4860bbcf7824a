import type { Analysis, OptionId, OptionResult } from '@/lib/contract/result'
import { appraise } from '@/lib/economics/appraise'
import { investmentOf } from '@/lib/economics/option-costs'
import type { Ledger } from '@/lib/ledger/ledger'
import { seededRandom } from '@/lib/numeric/random'
import { CATALOGUE } from './catalogue'
import { savingOf, type YearBasis } from './judge'
import { electricJ } from './replay'
import type { SupplyChange, SupplyStep } from './supply'

/** Options that do the same job, or take the ground from under each other: never in one set. */
const EXCLUSIONS: readonly (readonly [OptionId, OptionId])[] = [
  ['vent-relief-at-idle', 'open-centre-unloading'],
  ['vent-relief-at-idle', 'pressure-compensated-pump'],
  ['open-centre-unloading', 'pressure-compensated-pump'],
  ['second-relief-setting', 'pressure-compensated-pump'],
  ['lower-relief-setting', 'pressure-compensated-pump'],
]

/** Sets shown, best first. */
const SHOWN_SETS = 3
/** A set must save this much more than without any one of its options to be worth showing. */
const LEAST_GAIN_SHARE = 0.002

export interface FeasibleChange {
  readonly id: OptionId
  readonly change: SupplyChange
  readonly result: OptionResult
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

/**
 * The best sets of two options and more, each replayed as a set and never added up. Ranked by net
 * present value where every part has a quote, else by energy.
 */
export function combineOptions(
  feasible: readonly FeasibleChange[],
  supply: readonly SupplyStep[],
  ledger: Ledger,
  year: YearBasis,
  ranking: Analysis['ranking'],
): Analysis['combinations'] {
  const beforeJ = electricJ(supply, ledger.model)
  const useful = feasible.filter(({ result }) => (result.savedShare?.value ?? 0) > 0)
  const shareOf = new Map<number, number>([[0, 0]])
  const sets: { set: FeasibleChange[]; share: number }[] = []
  for (let mask = 1; mask < 1 << useful.length; mask++) {
    const set = useful.filter((_, k) => mask & (1 << k))
    if (!compatible(set.map(({ id }) => id))) continue
    const share = 1 - electricJ(together(set)(supply, ledger.model), ledger.model) / beforeJ
    shareOf.set(mask, share)
    if (set.length < 2) continue
    const parts = useful.map((_, k) => 1 << k).filter((bit) => mask & bit)
    const bestPart = Math.max(...parts.map((bit) => shareOf.get(mask & ~bit) ?? 0))
    if (share > bestPart + LEAST_GAIN_SHARE) sets.push({ set, share })
  }
  sets.sort((a, b) => b.share - a.share)
  const shown = sets.slice(0, SHOWN_SETS * 2).map(({ set }) => {
    const saving = savingOf(ledger, together(set), year)
    const costs = set.map(({ id }) => investmentOf(id, ledger.machine, year.site).cost)
    const sum = (k: 0 | 1 | 2) => costs.reduce((total, cost) => total + cost[k], 0)
    const { netPresentValue } = appraise({
      savedCostPerYear: saving.savedCostPerYear,
      investment: [sum(0), sum(1), sum(2)],
      discountRate: year.site.discountRate,
      lifetimeYears: year.site.lifetimeYears,
      wantedPaybackYears: year.site.wantedPaybackYears,
      random: seededRandom(1),
    })
    return {
      options: set.map(({ id }) => id),
      savedKWhPerYear: saving.savedKWhPerYear,
      netPresentValue,
      order: orderOf(set, supply, ledger),
    }
  })
  const worth = (row: (typeof shown)[number]) =>
    ranking === 'energy'
      ? row.savedKWhPerYear.value
      : (row.netPresentValue?.value ?? Number.NEGATIVE_INFINITY)
  return shown.sort((a, b) => worth(b) - worth(a)).slice(0, SHOWN_SETS)
}
