import type { Reach } from '@/lib/months/reach'
import { estimateParts, NO_DATA } from '../format'

/** A value with its 95 % interval as text: `1,240 ± 180`. @param scale from the reach's unit to the value's */
export function withReach(
  value: number | null,
  reach: Reach | null,
  scale = 1,
): { value: string; interval: string } {
  if (value === null) return { value: NO_DATA, interval: '' }
  const { below, above } = reach ?? { below: 0, above: 0 }
  return estimateParts({
    value,
    low: value - below * scale,
    high: value + above * scale,
    basis: 'estimated',
  })
}
