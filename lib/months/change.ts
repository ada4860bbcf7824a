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

const amount = ({ hours, duty, rate, price }: Factors) =>
  hours * duty.reduce((sum, share, i) => sum + share * rate[i], 0) * price

function shapley(before: Factors, after: Factors): ChangeSplit {
  /** The amount with the causes of a set as after, the others as before. */
  const at = (set: number) => {
    const pick = <K extends Cause>(cause: K) => (set & (1 << CAUSES.indexOf(cause)) ? after : before)[cause]
    return amount({ hours: pick('hours'), duty: pick('duty'), rate: pick('rate'), price: pick('price') })
  }
  const all = (1 << CAUSES.length) - 1
  const values = Array.from({ length: all + 1 }, (_, set) => at(set))
  const effects = CAUSES.map((_, cause) => {
    let sum = 0
    for (let set = 0; set <= all; set++) {
      if (set & (1 << cause)) continue
      sum += weightOf(bitsOf(set)) * (values[set | (1 << cause)] - values[set])
    }
    return sum
  })
  return {
    change: values[all] - values[0],
    effects: Object.fromEntries(CAUSES.map((cause, i) => [cause, effects[i]])) as Record<Cause, number>,
  }
}

const bitsOf = (set: number) => CAUSES.filter((_, i) => set & (1 << i)).length
const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1))

/** Share of all orders in which just these causes come before the next. */
const weightOf = (earlier: number) =>
  (factorial(earlier) * factorial(CAUSES.length - 1 - earlier)) / factorial(CAUSES.length)
