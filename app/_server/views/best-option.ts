import type { OptionResult } from '@/lib/contract/result'

/** The first option of a ranking that was judged, is feasible and saves; null where there is none. */
export function bestOption(options: readonly OptionResult[]): OptionResult | null {
  return (
    options.find(
      ({ judged, feasible, savedKWhPerYear }) => judged && feasible && (savedKWhPerYear?.value ?? 0) > 0,
    ) ?? null
  )
}
