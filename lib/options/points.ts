import type { PhaseKind } from '@/lib/contract/result'
import { tupleIndex } from '@/lib/numeric/tuple-index'
import { meansIn } from '@/lib/phases/stretch-columns'
import { type Asked, firstsOf, type Numbering } from './asked'
import { type Columns, columnsFor, meanColumnsOf } from './columns'
import type { Duty } from './duty'
import { isAsOldAs, isIdle, type LogOrder, type OrderColumns, orderColumns, orderIn } from './order'
import { type Pieces, piecesAt } from './pieces'
import { sampledIndices } from './sample'
import { type Metered, type SupplyStep, suppliedStep, type Under } from './supply'

/** Steps that ask for about the same: their mean readings, and their place in the log. */
interface Alike extends Metered {
  readonly startS: number
  readonly order: LogOrder
}

/** Steps of a recording put together. */
export interface Points {
  readonly alike: readonly Alike[]
  /** By piece of the log: as in a duty. */
  readonly pointOf: Int32Array
  readonly durationS: Float64Array
  readonly stepOf: Int32Array
}

/** Steps of a recording with their readings. */
export interface Read {
  readonly supply: readonly SupplyStep[]
  readonly columns: Columns
}

/** Tells pieces of idles on different sides of the ages apart, and those that an idle ends with. */
function agePart({ motorOn, kind }: SupplyStep, order: LogOrder, agesS: readonly number[]): number {
  if (!motorOn || agesS.length === 0 || !isIdle({ kind })) return 0
  let part = order.idleEnds > 0 ? 1 : 0
  for (const age of agesS) {
    part = 8 * part + (isAsOldAs(order.idleAgeS, age) ? 1 : 0)
    part += (isAsOldAs(order.loadedAgeS, age) ? 2 : 0) + (order.idleS > age ? 4 : 0)
  }
  return part
}

/** Numbers that tell apart what `asked` does, piece by piece, and idles on different sides of an age. */
function numberedByAge(
  { stepOf, orders }: Pick<Pieces, 'stepOf' | 'orders'>,
  supply: readonly SupplyStep[],
  asked: Numbering,
  agesS: readonly number[],
): Numbering {
  if (agesS.length === 0) return asked
  const numberWithPart = tupleIndex(2)
  const key = new Int32Array(2)
  const withPart: number[] = []
  // Most pieces are none of an idle: for them a table does.
  const withoutPart = new Int32Array(asked.count).fill(-1)
  const numberOf = new Int32Array(stepOf.length)
  let count = 0
  for (let k = 0; k < stepOf.length; k++) {
    key[0] = asked.numberOf[k]
    key[1] = agePart(supply[stepOf[k]], orders[k], agesS)
    if (key[1] === 0) {
      if (withoutPart[key[0]] < 0) withoutPart[key[0]] = count++
      numberOf[k] = withoutPart[key[0]]
    } else {
      const at = numberWithPart(key)
      if (at === withPart.length) withPart.push(count++)
      numberOf[k] = withPart[at]
    }
  }
  return { numberOf, count }
}

/** How long each point lasts up to and with each of its pieces, as a share of which that piece lasts. */
function sharesOf(durationS: Float64Array, { numberOf, count }: Numbering): Float64Array {
  const lasts = new Float64Array(count)
  const isMet = new Uint8Array(count)
  const shares = new Float64Array(durationS.length)
  for (let k = 0; k < durationS.length; k++) {
    const point = numberOf[k]
    lasts[point] += durationS[k]
    shares[k] = isMet[point] === 0 ? 1 : lasts[point] > 0 ? durationS[k] / lasts[point] : 0
    isMet[point] = 1
  }
  return shares
}

/** What points hold of the order of the log: no idle of one is younger or shorter, and all end. */
function ordersOf(
  { orders }: Pick<Pieces, 'orders'>,
  shares: Float64Array,
  { numberOf, count }: Numbering,
): OrderColumns {
  const all = orderColumns(count)
  all.idleAgeS.fill(Number.POSITIVE_INFINITY)
  all.loadedAgeS.fill(Number.POSITIVE_INFINITY)
  all.idleS.fill(Number.POSITIVE_INFINITY)
  for (let k = 0; k < orders.length; k++) {
    const to = numberOf[k]
    const { moreNeedPa, idleAgeS, loadedAgeS, idleS, idleEnds } = orders[k]
    all.idleAgeS[to] = Math.min(all.idleAgeS[to], idleAgeS)
    all.loadedAgeS[to] = Math.min(all.loadedAgeS[to], loadedAgeS)
    all.idleS[to] = Math.min(all.idleS[to], idleS)
    all.idleEnds[to] += idleEnds
    all.moreNeedPa[to] += shares[k] * (moreNeedPa - all.moreNeedPa[to])
  }
  return all
}

/** What pieces, or points, are put together from: the readings in the row of each, and its kind. */
interface Parts extends Omit<Pieces, 'stepOf'> {
  readonly columns: Columns
  readonly rowOf: Int32Array
  kindOf(part: number): PhaseKind
}

interface Together {
  readonly alike: readonly Alike[]
  readonly columns: Columns
}

/** Parts put together by their numbers: their readings are means over time. */
function putTogether(parts: Parts, numbering: Numbering): Together {
  const { startS, durationS, rowOf, columns } = parts
  const { numberOf, count } = numbering
  const shares = sharesOf(durationS, numbering)
  const together = columnsFor(columns.names, count)
  // Means by increments: of equal readings they are exactly that reading.
  const mean = (to: Float64Array, from: Float64Array) => {
    for (let k = 0; k < rowOf.length; k++) to[numberOf[k]] += shares[k] * (from[rowOf[k]] - to[numberOf[k]])
  }
  for (let i = 0; i < columns.names.length; i++) mean(together.means[i], columns.means[i])
  mean(together.peakLoadPa, columns.peakLoadPa)
  const lasts = lastingOf(durationS, numberOf, count)
  const orders = ordersOf(parts, shares, numbering)
  const read = meanColumnsOf(together)
  const alike = Array.from(
    firstsOf(numbering),
    (first, point): Alike => ({
      kind: parts.kindOf(first),
      startS: startS[first],
      durationS: lasts[point],
      means: meansIn(read, point),
      peakLoadPa: together.peakLoadPa[point],
      order: orderIn(orders, point),
    }),
  )
  return { alike, columns: together }
}

/** How long each point lasts, s. */
function lastingOf(durationS: Float64Array, pointOf: Int32Array, count: number): Float64Array {
  const lasts = new Float64Array(count)
  for (let k = 0; k < pointOf.length; k++) lasts[pointOf[k]] += durationS[k]
  return lasts
}

/** The points of a recording: all that are distinct, and few wide ones for searches and slopes. */
export interface PointsAt {
  readonly all: Points
  readonly few: Points
}

/**
 * The operating points of a recording. None holds idles on both sides of one of the ages, s. Held against replays of
 * every step in the tests.
 */
export function pointsOf({ supply, columns }: Read, asked: Asked, agesS: readonly number[]): PointsAt {
  const pieces = piecesAt(supply, agesS)
  const { stepOf, durationS, orders } = pieces
  const askedOf = { numberOf: stepOf.map((step) => asked.numberOf[step]), count: asked.count }
  const numbering = numberedByAge(pieces, supply, askedOf, agesS)
  const together = putTogether(
    { ...pieces, columns, rowOf: stepOf, kindOf: (piece) => supply[stepOf[piece]].kind },
    numbering,
  )
  const pointOf = numbering.numberOf
  const all = { alike: together.alike, pointOf, durationS, stepOf }
  const { few } = asked
  if (!few) return { all, few: all }
  // Points of one wide band and one side of the ages are put together again.
  const { alike } = all
  const firsts = firstsOf(numbering)
  const fewOf = numberedByAge(
    { stepOf: firsts.map((piece) => stepOf[piece]), orders: Array.from(firsts, (piece) => orders[piece]) },
    supply,
    { numberOf: firsts.map((piece) => few.numberOf[askedOf.numberOf[piece]]), count: few.count },
    agesS,
  )
  const wide = putTogether(
    {
      startS: Float64Array.from(alike, (point) => point.startS),
      durationS: Float64Array.from(alike, (point) => point.durationS),
      orders: alike.map((point) => point.order),
      columns: together.columns,
      rowOf: Int32Array.from(alike.keys()),
      kindOf: (point) => alike[point].kind,
    },
    fewOf,
  )
  const wideOf = pointOf.map((point) => fewOf.numberOf[point])
  return { all, few: { alike: wide.alike, pointOf: wideOf, durationS, stepOf } }
}

/** Unbroken stretches of the pieces, evenly spread, with about `most` of them together. */
export function sampledPoints({ alike, pointOf, durationS, stepOf }: Points, most: number): Points {
  const pieces = sampledIndices(pointOf.length, most)
  const sampled = {
    pointOf: pieces.map((piece) => pointOf[piece]),
    durationS: Float64Array.from(pieces, (piece) => durationS[piece]),
    stepOf: pieces.map((piece) => stepOf[piece]),
  }
  const lasts = lastingOf(sampled.durationS, sampled.pointOf, alike.length)
  return { ...sampled, alike: alike.map((one, k) => ({ ...one, durationS: lasts[k] })) }
}

/** The duty of the points under one set of parameter values. */
export function dutyUnder({ alike, pointOf, durationS, stepOf }: Points, under: Under): Duty {
  const points = alike.map((one, k) => suppliedStep(one, k, one.startS, one.order, under))
  return { points, pointOf, durationS, stepOf }
}
