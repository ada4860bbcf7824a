import type { Estimate } from '@/lib/contract/estimate'
import type { Verdict } from '@/lib/contract/proof'

/**
 * What an interval of a saving says. `proven-less` only where the whole interval of (saved − predicted), both independent,
 * lies below nil.
 */
export function verdictOf(saved: Estimate | null, predicted: Estimate | null): Verdict {
  if (!saved) return 'not-enough-data'
  if (saved.high < 0) return 'worse'
  if (saved.low <= 0) return 'not-proven'
  if (!predicted) return 'proven'
  const short = predicted.value - saved.value
  const reach = Math.hypot(saved.high - saved.value, predicted.value - predicted.low)
  return short > reach ? 'proven-less' : 'proven'
}
