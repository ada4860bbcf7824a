import { S_PER_HOUR } from '@/lib/units'
import type { ChangeSplit } from './causes'
import { FIGURES, type Figure, figureIndex } from './figures'
import {
  costAt,
  hasKind,
  KIND_COUNT,
  type KindTable,
  kindAt,
  kWhAt,
  runningHoursOf,
  secondsAt,
} from './kind-table'

/** The change of a figure in energy and in money. */
export interface FigureChange {
  readonly kWh: ChangeSplit
  readonly cost: ChangeSplit
}

/** What a figure of a month is the product of, kind by kind. */
export interface Factors {
  readonly hours: number
  /** By kind of phase: hours of it per running hour. */
  readonly duty: readonly number[]
  /** By kind of phase: kWh per hour of it. */
  readonly rate: readonly number[]
  readonly price: number
}

/** Two months side by side: what all figures share of hours and duty. */
interface Sides {
  /** Places of the kinds of phase that either month has. */
  readonly kinds: readonly number[]
  readonly before: Side
  readonly after: Side
}

interface Side {
  readonly table: KindTable
  readonly hours: number
  /** In the order of `kinds`. */
  readonly duty: readonly number[]
}

/** Null where a month did not run. */
function sidesOf(before: KindTable, after: KindTable): Sides | null {
  const [oldHours, freshHours] = [runningHoursOf(before), runningHoursOf(after)]
  if (oldHours === 0 || freshHours === 0) return null
  const kinds: number[] = []
  for (let kind = 0; kind < KIND_COUNT; kind++)
    if (hasKind(before, kind) || hasKind(after, kind)) kinds.push(kind)
  return { kinds, before: sideOf(before, oldHours, kinds), after: sideOf(after, freshHours, kinds) }
}

function sideOf(table: KindTable, hours: number, kinds: readonly number[]): Side {
  const duty: number[] = []
  for (const kind of kinds) duty.push(hasKind(table, kind) ? secondsAt(table, kind) / S_PER_HOUR / hours : 0)
  return { table, hours, duty }
}

/** kWh of a figure in an hour of a kind of phase; NaN where the month has none. */
function rateAt(table: KindTable, kind: number, figure: number): number {
  const seconds = secondsAt(table, kind)
  return seconds > 0 ? kWhAt(table, kind, figure) / (seconds / S_PER_HOUR) : Number.NaN
}

/** Null where the month could not separate the figure, NaN where nothing could be priced. */
function priceOf({ table }: Side, kinds: readonly number[], figure: number): number | null {
  let cost = 0
  let total = 0
  for (const kind of kinds) {
    if (!hasKind(table, kind)) continue
    cost += costAt(table, kind, figure)
    total += kWhAt(table, kind, figure)
  }
  if (Number.isNaN(total) || Number.isNaN(cost)) return null
  return total === 0 ? Number.NaN : cost / total
}

/** The first that is known, else nil. */
const orOther = (own: number, other: number) => (Number.isNaN(own) ? (Number.isNaN(other) ? 0 : other) : own)

/** What one month says nothing of is as in the other. */
function factorsOf(
  { kinds, before, after }: Sides,
  figure: number,
): { before: Factors; after: Factors } | null {
  const [oldPrice, freshPrice] = [priceOf(before, kinds, figure), priceOf(after, kinds, figure)]
  if (oldPrice === null || freshPrice === null) return null
  const [oldRate, freshRate]: number[][] = [[], []]
  for (const kind of kinds) {
    const [old, fresh] = [rateAt(before.table, kind, figure), rateAt(after.table, kind, figure)]
    oldRate.push(orOther(old, fresh))
    freshRate.push(orOther(fresh, old))
  }
  const [{ hours, duty }, now] = [before, after]
  return {
    before: { hours, duty, rate: oldRate, price: orOther(oldPrice, freshPrice) },
    after: { hours: now.hours, duty: now.duty, rate: freshRate, price: orOther(freshPrice, oldPrice) },
  }
}

/** Goes through the factors kind by kind without listing them: a page has thousands of changes. */
function changeOf({ kinds, before, after }: Sides, figure: number): FigureChange | null {
  const oldPrice = priceOf(before, kinds, figure)
  const freshPrice = priceOf(after, kinds, figure)
  if (oldPrice === null || freshPrice === null) return null
  // Σ duty × rate with both as before, with one as after, with both.
  let old = 0
  let duty = 0
  let rate = 0
  let fresh = 0
  for (let i = 0; i < kinds.length; i++) {
    const was = rateAt(before.table, kinds[i], figure)
    const is = rateAt(after.table, kinds[i], figure)
    const [oldRate, freshRate] = [orOther(was, is), orOther(is, was)]
    old += before.duty[i] * oldRate
    duty += after.duty[i] * oldRate
    rate += before.duty[i] * freshRate
    fresh += after.duty[i] * freshRate
  }
  const [priceThen, priceNow] = [orOther(oldPrice, freshPrice), orOther(freshPrice, oldPrice)]
  return {
    kWh: shapley(before.hours, after.hours, old, duty, rate, fresh, 1, 1),
    cost: shapley(before.hours, after.hours, old, duty, rate, fresh, priceThen, priceNow),
  }
}

/**
 * Splits the change of a figure between two months of a machine into hours × Σ duty × rate × price: every cause is
 * taken at the mean over all orders in which the causes may have come (Shapley 1953, from memory), so nothing is left
 * over, no order is preferred, and swapping the months only turns the signs. What one month says nothing of is as in
 * the other. Null where a month could not separate the figure, or did not run.
 */
export function splitChange(before: KindTable, after: KindTable, figure: Figure): FigureChange | null {
  const sides = sidesOf(before, after)
  return sides && changeOf(sides, figureIndex(figure))
}

/** The same of every figure: pages split thousands, and hours and duty are those of all. */
export function splitChanges(
  before: KindTable,
  after: KindTable,
): Readonly<Record<Figure, FigureChange | null>> {
  const sides = sidesOf(before, after)
  const changes: Partial<Record<Figure, FigureChange | null>> = {}
  for (let k = 0; k < FIGURES.length; k++) changes[FIGURES[k]] = sides && changeOf(sides, k)
  return changes as Record<Figure, FigureChange | null>
}

/** The two months' factors, each list in the order of `kinds`; null as in `splitChange`. */
export function changeFactors(before: KindTable, after: KindTable, figure: Figure) {
  const sides = sidesOf(before, after)
  const factors = sides && factorsOf(sides, figureIndex(figure))
  return factors && { kinds: sides.kinds.map(kindAt), ...factors }
}

/** Share of all orders of four causes in which no other, one, two or all three others came before. */
const [ALONE, AMID, LAST] = [1 / 4, 1 / 12, 1 / 4]

/** Splits the change of hours × sum × price: each cause's step times the mean of the others over all orders. */
function shapley(
  oldHours: number,
  hours: number,
  old: number,
  duty: number,
  rate: number,
  fresh: number,
  oldPrice: number,
  price: number,
): ChangeSplit {
  // What stands beside a step of hours or price, with the other of the two as before and as after.
  const early = ALONE * old + AMID * (duty + rate + fresh)
  const late = AMID * (old + duty + rate) + LAST * fresh
  // What stands beside a step of duty or rate, with the other of the two as before and as after.
  const [both, mixed, none] = [hours * price, hours * oldPrice + oldHours * price, oldHours * oldPrice]
  const [before, after] = [ALONE * none + AMID * (mixed + both), AMID * (none + mixed) + LAST * both]
  return {
    change: both * fresh - none * old,
    effects: {
      hours: (hours - oldHours) * (early * oldPrice + late * price),
      duty: (duty - old) * before + (fresh - rate) * after,
      rate: (rate - old) * before + (fresh - duty) * after,
      price: (price - oldPrice) * (early * oldHours + late * hours),
    },
  }
}
