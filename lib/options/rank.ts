import type { Analysis, OptionResult } from '@/lib/contract/result'
import type { Ledger } from '@/lib/ledger/ledger'
import { CATALOGUE } from './catalogue'
import { combineOptions, type FeasibleChange } from './combine'
import { judge, type YearBasis } from './judge'
import { electricJ } from './replay'
import { loggedSupply } from './supply'

/**
 * Judges every option of the catalogue on a ledger and ranks them: by net present value once every
 * feasible option has the site's own cost, by energy saved until then; infeasible ones last.
 */
export function rankOptions(
  ledger: Ledger,
  year: YearBasis,
): Pick<Analysis, 'options' | 'ranking' | 'combinations'> {
  const { model, curve, values, segmentation, trace } = ledger
  const supply = loggedSupply(segmentation.steps, trace.timeS, model, curve, values)
  const feasible: FeasibleChange[] = []
  const options: OptionResult[] = []
  for (const option of CATALOGUE) {
    const plan = option.plan({
      machine: ledger.machine,
      site: year.site,
      ledger,
      supply,
      energyJ: (changed) => electricJ(changed, model),
    })
    const result = judge(option.id, plan, ledger, year)
    options.push(result)
    if (plan.change) feasible.push({ id: option.id, change: plan.change, result })
  }
  const quoted = feasible.length > 0 && feasible.every(({ result }) => !result.investmentIsPlaceholder)
  const ranking = quoted ? 'net-present-value' : 'energy'
  const worth = (option: OptionResult) => {
    if (!option.feasible) return Number.NEGATIVE_INFINITY
    const by = quoted ? option.netPresentValue : option.savedKWhPerYear
    return by?.value ?? Number.NEGATIVE_INFINITY
  }
  options.sort((a, b) => (worth(a) === worth(b) ? 0 : worth(b) - worth(a)))
  return { options, ranking, combinations: combineOptions(feasible, supply, ledger, year, ranking) }
}
