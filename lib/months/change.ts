import type { PhaseKind } from '@/lib/contract/result'
import { S_PER_HOUR } from '@/lib/units'
import { CAUSES, type Cause, type ChangeSplit } from './causes'
import { FIGURES, type Figure, figureIndex } from './figures'
import { runningHoursOf } from './month'
import type { KindSums } from './summary'

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
  readonly kinds: readonly PhaseKind[]
  readonly before: Side
  readonly after: Side
}

interface Side {
  /** In the order of `kinds`; undefined where the month has no such phase. */
  readonly own: readonly (KindSums | undefined)[]
  readonly hours: number
  readonly duty: number[]
}

/** Null where a month did not run. */
function sidesOf(before: readonly KindSums[], after: readonly KindSums[]): Sides | null {
  const kinds = [...new Set([...before, ...after].map(({ kind }) => kind))]
  const [old, fresh] = [sideOf(before, kinds), sideOf(after, kinds)]
  return old.hours === 0 || fresh.hours === 0 ? null : { kinds, before: old, after: fresh }
}

function sideOf(sums: readonly KindSums[], kinds: readonly PhaseKind[]): Side {
  const own = kinds.map((name) => sums.find(({ kind }) => kind === name))
  const hours = runningHoursOf(sums)
  return { own, hours, duty: own.map((one) => (one ? one.seconds / S_PER_HOUR / hours : 0)) }
}

/** A figure's rates, null where a month has no such phase, and its price, null where nothing could be priced. */
interface Rates {
  readonly rate: (number | null)[]
  readonly price: number | null
}

/** Null where the month could not separate the figure. */
function ratesOf({ own }: Side, k: number): Rates | null {
  const rate: (number | null)[] = []
  let cost = 0
  let total = 0
  for (const one of own) {
    if (!one) {
      rate.push(null)
      continue
    }
    const [kWh, money] = [one.kWh[k], one.cost[k]]
    if (kWh === null || money === null) return null
    const hours = one.seconds / S_PER_HOUR
    rate.push(hours > 0 ? kWh / hours : null)
    cost += money
    total += kWh
  }
  return { rate, price: total === 0 ? null : cost / total }
}

/** What one month says nothing of is as in the other. */
function filled({ hours, duty }: Side, of: Rates, other: Rates): Factors {
  const rate = of.rate.map((value, i) => value ?? other.rate[i] ?? 0)
  return { hours, duty, rate, price: of.price ?? other.price ?? 0 }
}

function factorsOf({ before, after }: Sides, figure: Figure): { before: Factors; after: Factors } | null {
  const k = figureIndex(figure)
  const [old, fresh] = [ratesOf(before, k), ratesOf(after, k)]
  return old && fresh && { before: filled(before, old, fresh), after: filled(after, fresh, old) }
}

function changeOf(sides: Sides, figure: Figure): FigureChange | null {
  const factors = factorsOf(sides, figure)
  if (!factors) return null
  const sums = sumsOf(factors.before, factors.after)
  return {
    kWh: shapley({ hours: factors.before.hours, price: 1 }, { hours: factors.after.hours, price: 1 }, sums),
    cost: shapley(factors.before, factors.after, sums),
  }
}

/**
 * Splits the change of a figure between two months of a machine into hours × Σ duty × rate × price: every cause is
 * taken at the mean over all orders in which the causes may have come (Shapley 1953, from memory), so nothing is left
 * over, no order is preferred, and swapping the months only turns the signs. What one month says nothing of is as in
 * the other. Null where a month could not separate the figure, or did not run.
 */
export function splitChange(
  before: readonly KindSums[],
  after: readonly KindSums[],
  figure: Figure,
): FigureChange | null {
  const sides = sidesOf(before, after)
  return sides && changeOf(sides, figure)
}

/** The same of every figure: pages split thousands, and hours and duty are those of all. */
export function splitChanges(
  before: readonly KindSums[],
  after: readonly KindSums[],
): Readonly<Record<Figure, FigureChange | null>> {
  const sides = sidesOf(before, after)
  const changes: Partial<Record<Figure, FigureChange | null>> = {}
  for (const figure of FIGURES) changes[figure] = sides && changeOf(sides, figure)
  return changes as Record<Figure, FigureChange | null>
}

/** The two months' factors, each list in the order of `kinds`; null as in `splitChange`. */
export function changeFactors(before: readonly KindSums[], after: readonly KindSums[], figure: Figure) {
  const sides = sidesOf(before, after)
  const factors = sides && factorsOf(sides, figure)
  return factors && { kinds: sides.kinds, ...factors }
}

function dot(duty: readonly number[], rate: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < duty.length; i++) sum += duty[i] * rate[i]
  return sum
}

const BIT = Object.fromEntries(CAUSES.map((cause, i) => [cause, 1 << i])) as Record<Cause, number>
const ALL = (1 << CAUSES.length) - 1

/** Σ duty × rate, by whether the rate is as after, then by whether the duty is. */
const sumsOf = (before: Factors, after: Factors) =>
  [before.rate, after.rate].map((rate) => [dot(before.duty, rate), dot(after.duty, rate)])

/** Splits the change of hours × sum × price. */
function shapley(
  before: Pick<Factors, 'hours' | 'price'>,
  after: Pick<Factors, 'hours' | 'price'>,
  sums: readonly (readonly number[])[],
): ChangeSplit {
  // By set of causes: the amount with those as after, the others as before.
  const values = new Array<number>(ALL + 1)
  for (let set = 0; set <= ALL; set++) {
    const sum = sums[set & BIT.rate ? 1 : 0][set & BIT.duty ? 1 : 0]
    values[set] = (set & BIT.hours ? after : before).hours * sum * (set & BIT.price ? after : before).price
  }
  return {
    change: values[ALL] - values[0],
    effects: {
      hours: effectOf(BIT.hours, values),
      duty: effectOf(BIT.duty, values),
      rate: effectOf(BIT.rate, values),
      price: effectOf(BIT.price, values),
    },
  }
}

function effectOf(bit: number, values: readonly number[]): number {
  let sum = 0
  for (let set = 0; set <= ALL; set++)
    if (!(set & bit)) sum += WEIGHTS[set] * (values[set | bit] - values[set])
  return sum
}

const bitsOf = (set: number) => CAUSES.filter((_, i) => set & (1 << i)).length
const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1))

/** By set of causes: share of all orders in which just these come before the next. */
const WEIGHTS = Array.from({ length: ALL + 1 }, (_, set) => {
  const earlier = bitsOf(set)
  return (factorial(earlier) * factorial(CAUSES.length - 1 - earlier)) / factorial(CAUSES.length)
})
