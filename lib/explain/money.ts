import type { Estimate } from '@/lib/contract/estimate'
import type { CashFlow } from '@/lib/contract/explanation'
import type { Site } from '@/lib/contract/site'
import { closedParts, evenPart, type Part, type PartSource, reachOfParts, scaledParts } from './parts'

const TAIL = 0.025

/** Yearly flows of money, the first one now, each with what it is worth now. */
export function cashFlowTable(flows: readonly number[], { discountRate }: Site): CashFlow[] {
  return flows.map((flow, year) => {
    const discountFactor = (1 + discountRate) ** -year
    return { year, flow, discountFactor, presentValue: flow * discountFactor }
  })
}

/** How far the 95 % interval of a triangle reaches below and above its likely value (its quantiles in closed form). */
function triangleReach({ value, low, high }: Estimate): { below: number; above: number } {
  const width = high - low
  const down = value - (low + Math.sqrt(TAIL * width * (value - low)))
  const up = high - Math.sqrt(TAIL * width * (high - value)) - value
  return { below: Math.max(0, down), above: Math.max(0, up) }
}

/** What an amount that was entered low, likely, high does to its own interval. */
export function trianglePart(source: PartSource, of: Estimate): Part {
  const reach = triangleReach(of)
  return { ...evenPart(source, 0), ...reach, known: (reach.below ** 2 + reach.above ** 2) / 2 }
}

/** Parts of money saved a year, each as it stands by itself. */
export interface MoneyParts {
  /** Of the yearly saving in money, price apart. */
  readonly saving: readonly Part[]
  /** Energy cost that the price moves, and how far it may, as a share. */
  readonly energyCost: number
  readonly priceLimitShare: number
  readonly maintenance: Estimate
}

/** Parts of the money saved a year. */
export function moneyParts({ saving, energyCost, priceLimitShare, maintenance }: MoneyParts): Part[] {
  return [
    ...saving,
    evenPart('energy-price', Math.abs(energyCost) * priceLimitShare),
    ...scaledParts([trianglePart('maintenance', maintenance)], -1),
  ].filter(({ below, above }) => below !== 0 || above !== 0)
}

/**
 * Parts of a drawn interval: what each source would do to it by itself, scaled on either side so that together they give
 * the interval as it was drawn.
 */
export function drawnParts(shown: Estimate, parts: readonly Part[]): Part[] {
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

/** Parts of a figure that follows from money saved a year and an investment, at the central values. */
export function investedParts(
  shown: Estimate,
  money: readonly Part[],
  investment: Estimate,
  perSaved: number,
  perInvested: number,
): Part[] {
  return drawnParts(shown, [
    ...scaledParts(money, perSaved),
    ...scaledParts([trianglePart('investment', investment)], perInvested),
  ])
}
