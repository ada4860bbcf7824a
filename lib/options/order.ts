import { neededPa, runsOf } from './demand'
import { copyOf, type SupplyStep } from './supply'

/** What a step's place in the log says: no option changes any of it. */
export interface LogOrder {
  /** Pressure that the whole step of the machine needs, over what this part of it needs by itself, Pa; NaN if unknown. */
  readonly moreNeedPa: number
  /** Time since this unbroken idle, and this unbroken loaded idle, began, s; nil outside of them. */
  readonly idleAgeS: number
  readonly loadedAgeS: number
  /** Length of the whole idle, s; nil outside of one. */
  readonly idleS: number
  /** Idles that end with it. */
  readonly idleEnds: number
}

/** The places of many steps, side by side. */
export type OrderColumns = Readonly<Record<Exclude<keyof LogOrder, 'idleEnds'>, Float64Array>> & {
  readonly idleEnds: Int32Array
}

export const NO_ORDER: LogOrder = { moreNeedPa: 0, idleAgeS: 0, loadedAgeS: 0, idleS: 0, idleEnds: 0 }

/** Columns for so many places, nil all through. */
export const orderColumns = (count: number): OrderColumns => ({
  moreNeedPa: new Float64Array(count),
  idleAgeS: new Float64Array(count),
  loadedAgeS: new Float64Array(count),
  idleS: new Float64Array(count),
  idleEnds: new Int32Array(count),
})

/** The place in a row of the columns. */
class OrderRow implements LogOrder {
  private readonly of: OrderColumns
  private readonly row: number

  constructor(of: OrderColumns, row: number) {
    this.of = of
    this.row = row
  }

  get moreNeedPa() {
    return this.of.moreNeedPa[this.row]
  }
  get idleAgeS() {
    return this.of.idleAgeS[this.row]
  }
  get loadedAgeS() {
    return this.of.loadedAgeS[this.row]
  }
  get idleS() {
    return this.of.idleS[this.row]
  }
  get idleEnds() {
    return this.of.idleEnds[this.row]
  }
}

export const orderIn = (columns: OrderColumns, row: number): LogOrder => new OrderRow(columns, row)

/** Neighbouring steps whose flows differ by less than this share of the pump's are one step of the machine. */
const SAME_FLOW_SHARE = 0.06
/** Ages nearer than this are the same, s. */
const SAME_AGE_S = 1e-9

export const isIdle = (step: Pick<SupplyStep, 'kind'>) =>
  step.kind === 'idle-loaded' || step.kind === 'idle-unloaded'

/**
 * What each step's whole machine step needs, Pa: a load that rises while the flow stays is one step of the
 * machine, and its pressure is set for its peak.
 */
function neededWithNeighbours(supply: readonly SupplyStep[], fullFlowM3S: number): Float64Array {
  const needs = new Float64Array(supply.length)
  for (let k = 0; k < supply.length; k++) needs[k] = neededPa(supply[k])
  for (let first = 0; first < supply.length; ) {
    let end = first + 1
    let most = needs[first]
    while (
      end < supply.length &&
      supply[end].kind === supply[first].kind &&
      Math.abs(supply[end].systemM3S - supply[end - 1].systemM3S) < SAME_FLOW_SHARE * fullFlowM3S
    ) {
      most = Math.max(most, needs[end++])
    }
    needs.fill(most, first, end)
    first = end
  }
  return needs
}

/** Tells the place in the log of every step of a logged supply. */
export function setOrder(supply: readonly SupplyStep[], columns: OrderColumns, fullFlowM3S: number): void {
  const needs = neededWithNeighbours(supply, fullFlowM3S)
  for (let k = 0; k < supply.length; k++) {
    columns.moreNeedPa[k] = needs[k] - neededPa(supply[k])
  }
  for (const [first, last] of runsOf(supply, isIdle)) {
    const { startS } = supply[first]
    const idleS = supply[last].startS + supply[last].durationS - startS
    for (let i = first; i <= last; i++) {
      columns.idleAgeS[i] = supply[i].startS - startS
      columns.idleS[i] = idleS
      columns.idleEnds[i] = i === last ? 1 : 0
    }
  }
  for (const [first, last] of runsOf(supply, (step) => step.kind === 'idle-loaded')) {
    for (let i = first; i <= last; i++) columns.loadedAgeS[i] = supply[i].startS - supply[first].startS
  }
}

/** Pressure that the machine's own step needs, which this is (a part of), Pa; NaN if unknown. */
export const wholeNeedPa = (step: SupplyStep) => neededPa(step) + step.order.moreNeedPa

/** Whether an idle is that old, for steps that were cut there. */
export const isAsOldAs = (ageS: number, wantedS: number) => ageS >= wantedS - SAME_AGE_S

/** Moments within an idle step, s after its start, at which its idle reaches one of the ages; its end is the last. */
export function cutsWithin({ kind, durationS, order }: SupplyStep, agesS: readonly number[]): number[] {
  if (kind !== 'idle-loaded' && kind !== 'idle-unloaded') return [durationS]
  const cuts: number[] = []
  for (const age of agesS) {
    cuts.push(age - order.idleAgeS)
    if (kind === 'idle-loaded') cuts.push(age - order.loadedAgeS)
  }
  const within = cuts.filter((cut) => cut > SAME_AGE_S && cut < durationS - SAME_AGE_S)
  return [...new Set(within)].sort((a, b) => a - b).concat(durationS)
}

/** The place in the log of a part of an idle step that begins `fromS` after it. */
export const orderFrom = (
  order: LogOrder,
  kind: SupplyStep['kind'],
  fromS: number,
  isLast: boolean,
): LogOrder => ({
  moreNeedPa: order.moreNeedPa,
  idleS: order.idleS,
  idleAgeS: order.idleAgeS + fromS,
  loadedAgeS: kind === 'idle-loaded' ? order.loadedAgeS + fromS : 0,
  idleEnds: isLast ? order.idleEnds : 0,
})

/** The supply with its idle steps cut where their idles reach the ages, s. */
export function cutAtAges(supply: readonly SupplyStep[], agesS: readonly number[]): readonly SupplyStep[] {
  if (agesS.length === 0) return supply
  return supply.flatMap((step) => {
    if (!isIdle(step)) return step
    const ends = cutsWithin(step, agesS)
    if (ends.length === 1) return step
    return ends.map((endS, k): SupplyStep => {
      const fromS = k > 0 ? ends[k - 1] : 0
      const order = orderFrom(step.order, step.kind, fromS, k === ends.length - 1)
      return { ...copyOf(step), startS: step.startS + fromS, durationS: endS - fromS, order }
    })
  })
}
