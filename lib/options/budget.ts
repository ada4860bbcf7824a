import type { Machine } from '@/lib/contract/machine'
import type { Analysis } from '@/lib/contract/result'
import { worthOfOneAYear } from '@/lib/economics/cashflow'
import { investmentOf, lifetimeOf, maintenanceOf } from '@/lib/economics/option-costs'
import type { ConsideredSet } from './combine'
import type { YearBasis } from './year-saving'

/**
 * Picks the best set whose likely investments together stay within the site's budget: the one of highest net present
 * value, or, while options rank by energy, the one that saves most. Every set that was replayed is looked at, so
 * it is the best of them and no estimate. Energy alone decides: demand charges and cooling are reckoned afterwards.
 * @param kWhPerShare energy of a year that a saved share of 1 would be
 */
export function bestAffordable(
  machine: Machine,
  { site, pricePerKWh }: YearBasis,
  ranking: Analysis['ranking'],
  kWhPerShare: number,
): (sets: readonly ConsideredSet[]) => number | null {
  return (sets) => {
    if (site.budget === undefined) return null
    let best: { index: number; worth: number } | null = null
    for (const [index, { order, savedShares }] of sets.entries()) {
      const cost = order.reduce((sum, id) => sum + investmentOf(id, machine, site).cost[1], 0)
      if (cost > site.budget) continue
      const worthOfStep = (step: number) => {
        if (ranking === 'energy') return savedShares[step]
        const id = order[step]
        const money = savedShares[step] * kWhPerShare * pricePerKWh - maintenanceOf(id, site)[1]
        return money * worthOfOneAYear(site.discountRate, lifetimeOf(id, site))
      }
      const gain = order.reduce((sum, _, step) => sum + worthOfStep(step), 0)
      const worth = ranking === 'energy' ? gain : gain - cost
      if (worth > (best?.worth ?? 0)) best = { index, worth }
    }
    return best?.index ?? null
  }
}
