import type { Analysis, OptionId, OptionResult } from '@/lib/contract/result'
import { investmentOf } from '@/lib/economics/option-costs'
import type { Ledger } from '@/lib/ledger/ledger'
import { CATALOGUE } from './catalogue'
import { bestSets, combinationRows, type FeasibleChange } from './combine'
import { contextOf } from './context'
import { judge, type YearBasis } from './judge'
import { type Replayed, replayAll } from './replay'

export type RankedOptions = Pick<Analysis, 'options' | 'ranking' | 'combinations'>

/** A replay with the options that it carries out together. */
export interface ReplayOfOptions {
  readonly options: readonly OptionId[]
  readonly replayed: Replayed
}

/**
 * Judges every option of the catalogue on a ledger and ranks them: by net present value once every
 * feasible option has the site's own cost, by energy saved until then; infeasible ones last. With them the replays that
 * they rest on.
 */
export function rankReplayed(
  ledger: Ledger,
  year: YearBasis,
): { ranked: RankedOptions; replays: ReplayOfOptions[] } {
  const { machine } = ledger
  const context = contextOf(ledger, year.site)
  const plans = CATALOGUE.map(({ id, plan }) => ({ id, plan: plan(context) }))
  const feasible = plans.flatMap(({ id, plan }): FeasibleChange[] =>
    plan.change
      ? [{ id, change: plan.change, replayShareSd: plan.replayShareSd, replaySd: plan.replaySd }]
      : [],
  )
  const sets = bestSets(feasible, context)
  const replayed = replayAll(ledger, [...feasible, ...sets], year.cycles)

  const options = plans.map(({ id, plan }) => {
    const index = feasible.findIndex((one) => one.id === id)
    return judge(id, plan, replayed[index] ?? null, ledger, year)
  })
  const quoted =
    feasible.length > 0 && feasible.every(({ id }) => !investmentOf(id, machine, year.site).isPlaceholder)
  const ranking = quoted ? 'net-present-value' : 'energy'
  const worth = (option: OptionResult) => {
    const by = quoted ? option.netPresentValue : option.savedKWhPerYear
    return by?.value ?? Number.NEGATIVE_INFINITY
  }
  options.sort((a, b) => (worth(a) === worth(b) ? 0 : worth(b) - worth(a)))
  const ofSets = replayed.slice(feasible.length)
  const carriedOut = [...feasible.map(({ id }) => [id]), ...sets.map((set) => set.options)]
  return {
    ranked: { options, ranking, combinations: combinationRows(sets, ofSets, ledger, year, ranking) },
    replays: replayed.map((one, k) => ({ options: carriedOut[k], replayed: one })),
  }
}
