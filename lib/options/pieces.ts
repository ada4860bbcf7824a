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
  const stepOf: number[] = []
  const starts: number[] = []
  const lasts: number[] = []
  const orders: LogOrder[] = []
  const add = (step: number, startS: number, durationS: number, order: LogOrder) => {
    stepOf.push(step)
    starts.push(startS)
    lasts.push(durationS)
    orders.push(order)
  }
  for (let k = 0; k < supply.length; k++) {
    const { kind, startS, durationS, order } = supply[k]
    const ends = agesS.length > 0 && isIdle(supply[k]) ? cutsWithin(supply[k], agesS) : null
    if (!ends || ends.length === 1) {
      add(k, startS, durationS, order)
      continue
    }
    ends.forEach((endS, part) => {
      const fromS = part > 0 ? ends[part - 1] : 0
      add(k, startS + fromS, endS - fromS, orderFrom(order, kind, fromS, part === ends.length - 1))
    })
  }
  return {
    stepOf: Int32Array.from(stepOf),
    startS: Float64Array.from(starts),
    durationS: Float64Array.from(lasts),
    orders,
  }
}
