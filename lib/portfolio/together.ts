import type { Basis, Estimate } from '@/lib/contract/estimate'

/** One of several figures, with what of it answers to the doubts that all share. */
export interface Part {
  readonly estimate: Estimate
  /** The amount that a shared doubt's share is a share of, such as the worth of the money saved. */
  readonly shared: number
}

const RANK: readonly Basis[] = ['measured', 'estimated', 'default']

/**
 * The sum of figures of several machines with its 95 % interval. What all machines share (the price of energy, the
 * hours of the year) moves them together and is added up; the rest of each interval (sensors, models, investments)
 * is its own machine's and adds in squares (JCGM 100:2008, 5.1.2 and 5.2.2). Null without a figure.
 * @param limitShares 95 % limits of the shared doubts, as shares of what they act on
 */
export function together(parts: readonly Part[], limitShares: readonly number[]): Estimate | null {
  if (parts.length === 0) return null
  const sum = (of: (part: Part) => number) => parts.reduce((total, part) => total + of(part), 0)
  const whole = sum(({ shared }) => shared)
  const joint = limitShares.reduce((total, share) => total + (share * whole) ** 2, 0)
  const reach = (half: (estimate: Estimate) => number) => {
    const own = sum(({ estimate, shared }) => {
      const common = limitShares.reduce((total, share) => total + (share * shared) ** 2, 0)
      return Math.max(0, half(estimate) ** 2 - common)
    })
    return Math.sqrt(joint + own)
  }
  const value = sum(({ estimate }) => estimate.value)
  const rank = Math.max(...parts.map(({ estimate }) => RANK.indexOf(estimate.basis)))
  return {
    value,
    low: value - reach((one) => one.value - one.low),
    high: value + reach((one) => one.high - one.value),
    basis: RANK[rank],
  }
}
