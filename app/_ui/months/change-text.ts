import type { Reach } from '@/lib/months/reach'
import { withReach } from './reach-text'

/** A change with its sign and its interval. */
export function changeText(change: number, reach: Reach): string {
  const { value, interval } = withReach(change, reach)
  return `${change > 0 ? '+' : ''}${value} ${interval}`
}
