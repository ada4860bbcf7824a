import type { Combination, OptionId } from '@/lib/contract/option-result'
import type { Analysis, OptionResult } from '@/lib/contract/result'
import { standardDraws } from '@/lib/economics/draws'
import { investmentOf } from '@/lib/economics/option-costs'
import { tornadoes } from '@/lib/economics/tornado'
import { ledgerKWh } from '@/lib/ledger/estimates'
import type { Ledger } from '@/lib/ledger/ledger'
import { seededRandom } from '@/lib/numeric/random'
import { bestAffordable } from './budget'
import { CATALOGUE } from './catalogue'
import { bestSets, type ChosenSet, type FeasibleChange } from './combine'
import { contextOf } from './context'
import { type Judged, judge } from './judge'
import { peaksOf } from './peak'
import { type Replayable, replayAll } from './replay'
import { beyond, peaksBeyond, type SetRow, setRow, type WithPeaks } from './set-rows'
import { movedAlong } from './shared-doubt'
import type { YearBasis } from './year-saving'

export type RankedOptions = Pick<
  Analysis,
  'options' | 'ranking' | 'combinations' | 'bestUnderBudget' | 'marginalCostCurve'
>

/** A replay with the options that it carries out together. */
export interface ReplayOfOptions {
  readonly options: readonly OptionId[]
  /** Options done before, where this is what the last of `options` adds to them. */
  readonly after: readonly OptionId[]
  readonly replayed: WithPeaks['replayed']
  readonly peaks: WithPeaks['peaks']
  /** Replayed shares that this one is put together from, by their index. */
  readonly weights: ReadonlyMap<number, number>
}

const SHOWN_SETS = 3
const keyOf = (options: readonly OptionId[]) => [...options].sort().join()

/** Everything that is replayed, each set of options once. */
function replaysOf(feasible: readonly FeasibleChange[], sets: readonly ChosenSet[]) {
  const replays = new Map<string, { options: readonly OptionId[]; replayable: Replayable }>()
  const add = (options: readonly OptionId[], replayable: Replayable) => {
    if (!replays.has(keyOf(options))) replays.set(keyOf(options), { options, replayable })
  }
  for (const one of feasible) add([one.id], one)
  for (const { order, steps } of sets) {
    steps.forEach((step, k) => {
      add(order.slice(0, k + 1), step)
    })
  }
  return [...replays.values()]
}

/** The replays that the shown rows rest on: whole ones, and what a step adds to those before. */
function shownReplays(
  singles: readonly OptionId[],
  shown: readonly Combination[],
  found: (options: readonly OptionId[]) => WithPeaks,
): ReplayOfOptions[] {
  const whole = (options: readonly OptionId[]): ReplayOfOptions => {
    const of = found(options)
    return { options, after: [], ...of, weights: new Map([[of.replayed.grounds.index, 1]]) }
  }
  const step = (options: readonly OptionId[]): ReplayOfOptions => {
    const after = options.slice(0, -1)
    const [now, before] = [found(options), found(after)]
    return {
      options,
      after,
      replayed: beyond(now.replayed, before.replayed),
      peaks: peaksBeyond(now.peaks, before),
      weights: new Map([
        [now.replayed.grounds.index, 1],
        [before.replayed.grounds.index, -1],
      ]),
    }
  }
  const all = [
    ...singles.map((id) => whole([id])),
    ...shown.flatMap(({ order }) => [
      whole(order),
      ...order.slice(1).map((_, k) => step(order.slice(0, k + 2))),
    ]),
  ]
  const byKey = new Map(all.map((one) => [`${keyOf(one.options)} ${keyOf(one.after)}`, one]))
  return [...byKey.values()]
}

/**
 * Judges every option of the catalogue on a ledger and ranks them: by net present value once every
 * feasible option has the site's own cost, by energy saved until then; infeasible ones last. With them the replays that
 * they rest on.
 */
export function rankReplayed(
  ledger: Ledger,
  basis: YearBasis,
): { ranked: RankedOptions; replays: ReplayOfOptions[] } {
  const { machine } = ledger
  const { site, runningHours } = basis
  const year = { ...basis, draws: standardDraws(seededRandom(1)) }
  const context = contextOf(ledger, site)
  const plans = CATALOGUE.map(({ id, plan }) => ({ id, plan: plan(context) }))
  const feasible = plans.flatMap(({ id, plan }): FeasibleChange[] =>
    plan.change
      ? [{ id, change: plan.change, replayShareSd: plan.replayShareSd, replaySd: plan.replaySd }]
      : [],
  )
  const quoted =
    feasible.length > 0 && feasible.every(({ id }) => !investmentOf(id, machine, site).isPlaceholder)
  const ranking = quoted ? 'net-present-value' : 'energy'
  const perYear = runningHours > 0 ? site.plannedHoursPerYear / runningHours : 0
  const kWhPerShare = ledgerKWh(ledger).electricIn.value * perYear
  const { sets, chosen } = bestSets(
    feasible,
    context,
    site.budget === undefined ? undefined : bestAffordable(machine, year, ranking, kWhPerShare),
  )
  const asked = replaysOf(feasible, chosen ? [...sets, chosen] : sets)
  const replayed = replayAll(
    ledger,
    asked.map(({ replayable }) => replayable),
    year.cycles,
  )
  const peaks = peaksOf(ledger, site)
  const byKey = new Map(
    asked.map(({ options, replayable }, k): [string, WithPeaks] => [
      keyOf(options),
      { replayed: replayed[k], peaks: peaks?.(replayable.change) ?? null },
    ]),
  )
  const found = (options: readonly OptionId[]): WithPeaks => {
    const of = byKey.get(keyOf(options))
    if (!of) throw new Error(keyOf(options))
    return of
  }

  const judged = plans.map(({ id, plan }): Judged => {
    const of = byKey.get(id)
    return judge(id, plan, of?.replayed ?? null, ledger, year, of?.peaks ?? null)
  })
  const prospects = judged.flatMap(({ prospect }) => prospect ?? [])
  const kWhPerSavedShare = ({ id, savedKWh }: (typeof prospects)[number]) =>
    savedKWh.value / found([id]).replayed.savedShare || 0
  const perShare = new Map(prospects.map((one) => [one.id, kWhPerSavedShare(one)]))
  const swings = tornadoes(
    prospects.map((one) => ({
      ...one,
      movesAlong: (other: OptionId) => {
        const moved = movedAlong(found([one.id]).replayed, found([other]).replayed)
        const own = perShare.get(one.id) ?? 0
        return own === 0 ? 0 : (moved * (perShare.get(other) ?? 0)) / own
      },
    })),
  )
  const options = judged.map(({ row }): OptionResult => ({ ...row, tornado: swings.get(row.id) ?? null }))
  const worth = (row: Pick<OptionResult, 'netPresentValue' | 'savedKWhPerYear'>) =>
    (quoted ? row.netPresentValue : row.savedKWhPerYear)?.value ?? Number.NEGATIVE_INFINITY
  const best = <Row>(rows: readonly Row[], of: (row: Row) => number) =>
    [...rows].sort((a, b) => (of(a) === of(b) ? 0 : of(b) - of(a)))

  const rowOf = (set: Pick<ChosenSet, 'options' | 'order'>): SetRow =>
    setRow(
      set,
      set.order.map((_, k) => found(set.order.slice(0, k + 1))),
      ledger,
      year,
    )
  const rows = best(sets.map(rowOf), ({ row }) => worth(row)).slice(0, SHOWN_SETS)
  const ranked = best(options, worth)
  const underBudget = chosen ? rowOf(chosen).row : null
  const first = ranked.find(({ feasible: can }) => can)
  const alone = first ? rowOf({ options: [first.id], order: [first.id] }).curve : []
  const combinations = rows.map(({ row }) => row)
  return {
    ranked: {
      options: ranked,
      ranking,
      combinations,
      bestUnderBudget: underBudget,
      marginalCostCurve: rows[0]?.curve ?? alone,
    },
    replays: shownReplays(
      feasible.map(({ id }) => id),
      underBudget ? [...combinations, underBudget] : combinations,
      found,
    ),
  }
}
