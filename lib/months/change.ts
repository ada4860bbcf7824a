import { S_PER_HOUR } from '@/lib/units'
import { CAUSES, type Cause, type ChangeSplit } from './causes'
import { type Figure, figureIndex } from './figures'
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

type Maybe<F> = { readonly [K in keyof F]: F[K] extends number ? number | null : readonly (number | null)[] }

const ratio = (a: number, b: number) => (b > 0 ? a / b : null)

/** A month's factors; null where it says nothing of one: no such phase, nothing that could be priced. */
function factorsOf(
  kinds: readonly KindSums[],
  names: readonly string[],
  figure: Figure,
): Maybe<Factors> | null {
  const k = figureIndex(figure)
  const hours = runningHoursOf(kinds)
  const own = names.map((name) => kinds.find(({ kind }) => kind === name))
  if (own.some((one) => one && (one.kWh[k] === null || one.cost[k] === null))) return null
  const kWh = own.map((one) => one?.kWh[k] ?? 0)
  const cost = own.reduce((sum, one) => sum + (one?.cost[k] ?? 0), 0)
  const ofHours = own.map((one) => (one ? one.seconds / S_PER_HOUR : 0))
  const total = kWh.reduce((sum, one) => sum + one, 0)
  return {
    hours,
    duty: ofHours.map((one) => ratio(one, hours)),
    rate: ofHours.map((one, i) => ratio(kWh[i], one)),
    price: total === 0 ? null : cost / total,
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
  const factors = changeFactors(before, after, figure)
  if (!factors) return null
  const { before: a, after: b } = factors
  return { kWh: shapley({ ...a, price: 1 }, { ...b, price: 1 }), cost: shapley(a, b) }
}

/** The two months' factors, each list in the order of `kinds`; null as in `splitChange`. */
export function changeFactors(before: readonly KindSums[], after: readonly KindSums[], figure: Figure) {
  const kinds = [...new Set([...before, ...after].map(({ kind }) => kind))]
  const [old, fresh] = [factorsOf(before, kinds, figure), factorsOf(after, kinds, figure)]
  if (!old || !fresh || old.hours === 0 || fresh.hours === 0) return null
  return { kinds, before: filled(old, fresh), after: filled(fresh, old) }
}

function filled(of: Maybe<Factors>, other: Maybe<Factors>): Factors {
  const list = (name: 'duty' | 'rate') => of[name].map((value, i) => value ?? other[name][i] ?? 0)
  return { hours: of.hours ?? 0, duty: list('duty'), rate: list('rate'), price: of.price ?? other.price ?? 0 }
}

function dot(duty: readonly number[], rate: readonly number[]): number {
  let sum = 0
  for (let i = 0; i < duty.length; i++) sum += duty[i] * rate[i]
  return sum
}

const BIT = Object.fromEntries(CAUSES.map((cause, i) => [cause, 1 << i])) as Record<Cause, number>
const ALL = (1 << CAUSES.length) - 1

/** Splits the change of hours × Σ duty × rate × price. Pages split thousands: the sums are made once for all sets of causes. */
function shapley(before: Factors, after: Factors): ChangeSplit {
  const sums = [before.rate, after.rate].map((rate) => [dot(before.duty, rate), dot(after.duty, rate)])
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
