import type { Estimate } from '@/lib/contract/estimate'
import type { CashFlow } from '@/lib/contract/explanation'
import type { Site } from '@/lib/contract/site'
import { npv, unitSavingFlows } from '@/lib/economics/cashflow'
import { closedParts, evenPart, type Part, reachOfParts, scaledParts } from './parts'

const TAIL = 0.025

/** Yearly flows of an option: the investment now, then the saving at each year's end. */
export function cashFlowTable(saved: number, investment: number, site: Site): CashFlow[] {
  return unitSavingFlows(site.lifetimeYears).map((share, year) => {
    const flow = year === 0 ? -investment : share * saved
    const discountFactor = (1 + site.discountRate) ** -year
    return { year, flow, discountFactor, presentValue: flow * discountFactor }
  })
}

/** What one unit saved a year is worth now. */
export const worthOfOneAYear = (site: Site) => npv(site.discountRate, unitSavingFlows(site.lifetimeYears))

/** How far the 95 % interval of a triangle reaches below and above its likely value (its quantiles in closed form). */
function triangleReach({ value, low, high }: Estimate): { below: number; above: number } {
  const width = high - low
  const down = value - (low + Math.sqrt(TAIL * width * (value - low)))
  const up = high - Math.sqrt(TAIL * width * (high - value)) - value
  return { below: Math.max(0, down), above: Math.max(0, up) }
}

/**
 * Parts of a drawn interval: what the saving's sources and the investment would do to it each by itself, scaled on either
 * side so that together they give the interval as it was drawn.
 * @param perSaved change of the figure per unit of yearly saving, `perInvested` per unit of investment, at the central values
 */
export function drawnParts(
  shown: Estimate,
  saving: readonly Part[],
  investment: Estimate,
  perSaved: number,
  perInvested: number,
): Part[] {
  const triangle = triangleReach(investment)
  const cost: Part = { ...evenPart('investment', 0), ...triangle }
  const parts = [
    ...scaledParts(saving, perSaved),
    ...scaledParts([{ ...cost, known: (triangle.below ** 2 + triangle.above ** 2) / 2 }], perInvested),
  ]
  const reach = reachOfParts(parts)
  const below = reach.below > 0 ? (shown.value - shown.low) / reach.below : 0
  const above = reach.above > 0 ? (shown.high - shown.value) / reach.above : 0
  const scaled = parts.map((part) => ({
    ...part,
    below: part.below * below,
    above: part.above * above,
    known: (part.known * (below ** 2 + above ** 2)) / 2,
  }))
  return closedParts(scaled, shown, 'rest')
}
