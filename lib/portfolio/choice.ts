import type { Estimate } from '@/lib/contract/estimate'
import type { OptionId } from '@/lib/contract/option-result'
import type { Analysis } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { capitalRecoveryFactor } from '@/lib/economics/cashflow'
import { lifetimeOf, maintenanceOf } from '@/lib/economics/option-costs'

/** What could be bought for one machine: an option or a set of them, replayed as a whole. */
export interface FundingChoice {
  /** In the order of doing them. */
  readonly options: readonly OptionId[]
  readonly savedKWhPerYear: Estimate
  readonly investment: Estimate
  readonly netPresentValue: Estimate
  /** Likely investments spread over each option's life with interest, and more upkeep, a year. */
  readonly yearlyCost: number
  /** True where a part of the investment is a shipped placeholder. */
  readonly isPlaceholder: boolean
}

type Ranked = Pick<Analysis, 'options' | 'combinations' | 'bestUnderBudget' | 'site'>

interface Step {
  readonly option: OptionId
  readonly investment: Estimate
}

function yearlyCostOf(steps: readonly Step[], site: Site): number {
  return steps.reduce((sum, { option, investment }) => {
    const yearly = investment.value * capitalRecoveryFactor(site.discountRate, lifetimeOf(option, site))
    return sum + yearly + maintenanceOf(option, site)[1]
  }, 0)
}

/**
 * Everything that can be bought for a machine by a log of it: each option by itself and each set, as they were
 * replayed. What saves nothing is none; a set that stands twice is one. Sums of single options are never made.
 */
export function choicesOf({ options, combinations, bestUnderBudget, site }: Ranked): FundingChoice[] {
  const choices = new Map<string, FundingChoice>()
  const add = (
    order: readonly OptionId[],
    steps: readonly Step[],
    figures: Record<'savedKWhPerYear' | 'investment' | 'netPresentValue', Estimate | null>,
  ) => {
    const { savedKWhPerYear, investment, netPresentValue } = figures
    if (!savedKWhPerYear || !investment || !netPresentValue || savedKWhPerYear.value <= 0) return
    choices.set([...order].sort().join(), {
      options: [...order],
      savedKWhPerYear,
      investment,
      netPresentValue,
      yearlyCost: yearlyCostOf(steps, site),
      isPlaceholder: investment.basis === 'default',
    })
  }
  for (const option of options) {
    if (!option.feasible || !option.judged || !option.investment) continue
    add([option.id], [{ option: option.id, investment: option.investment }], option)
  }
  for (const set of [...combinations, ...(bestUnderBudget ? [bestUnderBudget] : [])]) {
    add(set.order, set.steps, set)
  }
  return [...choices.values()]
}
