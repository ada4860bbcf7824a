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

/**
 * A month as changes are made of it, worked out once: pages hold each against several others. Lists by kind of phase, or
 * by figure and in it by kind; NaN where the month has no such phase.
 */
export interface ChangeMonth {
  readonly hours: number
  readonly seconds: readonly number[]
  /** Hours of the kind per running hour, nil where the month has none. */
  readonly duty: readonly number[]
  /** kWh per hour of the kind. */
  readonly rate: readonly number[]
  /** By figure; null where the month could not separate it, NaN where nothing could be priced. */
  readonly price: readonly (number | null)[]
}

export function changeMonth(table: KindTable): ChangeMonth {
  const hours = runningHoursOf(table)
  const [seconds, duty, rate]: number[][] = [[], [], []]
  for (let kind = 0; kind < KIND_COUNT; kind++) {
    seconds.push(secondsAt(table, kind))
    duty.push(hasKind(table, kind) ? secondsAt(table, kind) / S_PER_HOUR / hours : 0)
  }
  const price: (number | null)[] = []
  for (let figure = 0; figure < FIGURES.length; figure++) {
    let cost = 0
    let total = 0
    for (let kind = 0; kind < KIND_COUNT; kind++) {
      const kWh = kWhAt(table, kind, figure)
      rate.push(seconds[kind] > 0 ? kWh / (seconds[kind] / S_PER_HOUR) : Number.NaN)
      if (Number.isNaN(seconds[kind])) continue
      cost += costAt(table, kind, figure)
      total += kWh
    }
    const isUnknown = Number.isNaN(total) || Number.isNaN(cost)
    price.push(isUnknown ? null : total === 0 ? Number.NaN : cost / total)
  }
  return { hours, seconds, duty, rate, price }
}

/** Two months side by side. */
interface Sides {
  /** Places of the kinds of phase that either month has. */
  readonly kinds: readonly number[]
  readonly before: ChangeMonth
  readonly after: ChangeMonth
}

/** Null where a month did not run. */
function sidesOf(before: ChangeMonth, after: ChangeMonth): Sides | null {
  if (before.hours === 0 || after.hours === 0) return null
  const kinds: number[] = []
  for (let kind = 0; kind < KIND_COUNT; kind++)
    if (!Number.isNaN(before.seconds[kind]) || !Number.isNaN(after.seconds[kind])) kinds.push(kind)
  return { kinds, before, after }
}

/** The first that is known, else nil. */
const orOther = (own: number, other: number) => (Number.isNaN(own) ? (Number.isNaN(other) ? 0 : other) : own)

/** What one month says nothing of is as in the other. */
function factorsOf(
  { kinds, before, after }: Sides,
  figure: number,
): { before: Factors; after: Factors } | null {
  const [oldPrice, freshPrice] = [before.price[figure], after.price[figure]]
  if (oldPrice === null || freshPrice === null) return null
  const rates = (own: ChangeMonth, other: ChangeMonth) =>
    kinds.map((kind) => orOther(rateAt(own, kind, figure), rateAt(other, kind, figure)))
  const duty = (of: ChangeMonth) => kinds.map((kind) => of.duty[kind])
  return {
    before: {
      hours: before.hours,
      duty: duty(before),
      rate: rates(before, after),
      price: orOther(oldPrice, freshPrice),
    },
    after: {
      hours: after.hours,
      duty: duty(after),
      rate: rates(after, before),
      price: orOther(freshPrice, oldPrice),
    },
  }
}

const rateAt = ({ rate }: ChangeMonth, kind: number, figure: number) => rate[figure * KIND_COUNT + kind]

/** Goes through the factors kind by kind without listing them: a page has thousands of changes. */
function changeOf({ kinds, before, after }: Sides, figure: number): FigureChange | null {
  const [oldPrice, freshPrice] = [before.price[figure], after.price[figure]]
  if (oldPrice === null || freshPrice === null) return null
  // Σ duty × rate with both as before, with one as after, with both.
  let old = 0
  let duty = 0
  let rate = 0
  let fresh = 0
  for (const kind of kinds) {
    const was = rateAt(before, kind, figure)
    const is = rateAt(after, kind, figure)
    const [oldRate, freshRate] = [orOther(was, is), orOther(is, was)]
    old += before.duty[kind] * oldRate
    duty += after.duty[kind] * oldRate
    rate += before.duty[kind] * freshRate
    fresh += after.duty[kind] * freshRate
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
export function splitChange(before: ChangeMonth, after: ChangeMonth, figure: Figure): FigureChange | null {
  const sides = sidesOf(before, after)
  return sides && changeOf(sides, figureIndex(figure))
}

/** The same of every figure. */
export function splitChanges(
  before: ChangeMonth,
  after: ChangeMonth,
): Readonly<Record<Figure, FigureChange | null>> {
  const sides = sidesOf(before, after)
  const changes: Partial<Record<Figure, FigureChange | null>> = {}
  for (let k = 0; k < FIGURES.length; k++) changes[FIGURES[k]] = sides && changeOf(sides, k)
  return changes as Record<Figure, FigureChange | null>
}

/** The two months' factors, each list in the order of `kinds`; null as in `splitChange`. */
export function changeFactors(before: ChangeMonth, after: ChangeMonth, figure: Figure) {
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
