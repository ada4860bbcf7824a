import type { Result } from '@/lib/contract/result'

export type Option = Result['options'][number]

export interface OptionGroups {
  /** Replayed on this log, in the order of the ranking. */
  readonly ranked: readonly Option[]
  /** Judged, and not possible or not needed on this machine. */
  readonly notForIt: readonly Option[]
  /** What this log cannot judge, by the reason, so that a reason is said once. */
  readonly notJudged: readonly { readonly reason: string; readonly options: readonly Option[] }[]
}

/** The options of a result as the page lists them; none is left out. */
export function optionGroups(options: readonly Option[]): OptionGroups {
  const byReason = new Map<string, Option[]>()
  for (const option of options.filter(({ judged }) => !judged)) {
    const reason = option.reasons.map(({ message }) => message).join(' ')
    byReason.set(reason, [...(byReason.get(reason) ?? []), option])
  }
  return {
    ranked: options.filter(({ judged, feasible }) => judged && feasible),
    notForIt: options.filter(({ judged, feasible }) => judged && !feasible),
    notJudged: [...byReason].map(([reason, alike]) => ({ reason, options: alike })),
  }
}
