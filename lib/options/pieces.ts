import { cutsWithin, isIdle, type LogOrder, orderFrom } from './order'
import type { SupplyStep } from './supply'

/** The steps of a recording in their order, idle ones cut where their idles reach some ages. */
export interface Pieces {
  /** By piece: the step of the log that it is of, when it begins and how long it lasts, s, and its place in the log. */
  readonly stepOf: Int32Array
  readonly startS: Float64Array
  readonly durationS: Float64Array
  readonly orders: readonly LogOrder[]
}

/** The pieces of a logged supply, none of them an idle on both sides of one of the ages, s. */
export function piecesAt(supply: readonly SupplyStep[], agesS: readonly number[]): Pieces {
  const endsOf = cutsOf(supply, agesS)
  let count = supply.length
  for (const ends of endsOf.values()) count += ends.length - 1
  const pieces = {
    stepOf: new Int32Array(count),
    startS: new Float64Array(count),
    durationS: new Float64Array(count),
    orders: new Array<LogOrder>(count),
  }
  let at = 0
  const add = (step: number, startS: number, durationS: number, order: LogOrder) => {
    pieces.stepOf[at] = step
    pieces.startS[at] = startS
    pieces.durationS[at] = durationS
    pieces.orders[at++] = order
  }
  for (let k = 0; k < supply.length; k++) {
    const { kind, startS, durationS, order } = supply[k]
    const ends = endsOf.get(k)
    if (!ends) {
      add(k, startS, durationS, order)
      continue
    }
    for (let part = 0; part < ends.length; part++) {
      const fromS = part > 0 ? ends[part - 1] : 0
      add(k, startS + fromS, ends[part] - fromS, orderFrom(order, kind, fromS, part === ends.length - 1))
    }
  }
  return pieces
}

/** The steps that are cut, with the ends of their parts, s after their start. */
function cutsOf(supply: readonly SupplyStep[], agesS: readonly number[]): Map<number, number[]> {
  const cuts = new Map<number, number[]>()
  if (agesS.length === 0) return cuts
  for (let k = 0; k < supply.length; k++) {
    if (!isIdle(supply[k])) continue
    const ends = cutsWithin(supply[k], agesS)
    if (ends.length > 1) cuts.set(k, ends)
  }
  return cuts
}
