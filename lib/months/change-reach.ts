import type { Reach } from './reach'

/** What a side of a change is sure of: how far its energy's 95 % interval reaches, and its price of a kWh. */
export interface SureSide {
  readonly reach: Reach | null
  readonly pricePerKWh: number
}

/** How far the 95 % intervals of a change reach: of its energy in kWh, of its money in the site's currency. */
export interface ChangeReach {
  readonly kWh: Reach
  readonly cost: Reach
}

/**
 * Interval of the change between two months of one machine; null where a side has none. Nothing is taken to cancel:
 * sensors, plates and how far hours may be from the plan are mostly the same in both months, but no log knows that they
 * are, so both months' doubts add in squares as those of independent quantities (JCGM 100:2008, 5.1.2). What is the same
 * after all moves both months alike, and the change is then surer than said. The price is exact.
 */
export function changeReach(before: SureSide, after: SureSide): ChangeReach | null {
  const [old, fresh] = [before.reach, after.reach]
  if (!old || !fresh) return null
  const of = (oldTimes: number, freshTimes: number): Reach => ({
    below: Math.hypot(fresh.below * freshTimes, old.above * oldTimes),
    above: Math.hypot(fresh.above * freshTimes, old.below * oldTimes),
  })
  return { kWh: of(1, 1), cost: of(before.pricePerKWh, after.pricePerKWh) }
}

/** Reach of the mean of several months of a machine, which may all be off alike: the mean of their reaches. */
export function meanReach(reaches: readonly (Reach | null)[]): Reach | null {
  const known = reaches.flatMap((reach) => reach ?? [])
  if (known.length === 0 || known.length < reaches.length) return null
  const mean = (side: keyof Reach) => known.reduce((sum, reach) => sum + reach[side], 0) / known.length
  return { below: mean('below'), above: mean('above') }
}
