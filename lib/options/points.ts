import { PHASE_KINDS } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { tupleIndex } from '@/lib/numeric/tuple-index'
import { MEAN_NAMES, meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { PA_PER_BAR } from '@/lib/units'
import type { Duty } from './duty'
import { cutAtAges, isAsOldAs, isIdle, type LogOrder, wholeNeedPa } from './order'
import { sampleOf } from './sample'
import { type Metered, type SupplyStep, suppliedStep, type Under } from './supply'

/**
 * Width of a point in pressure, and in flow and speed as a share of what is rated. Pressures that options tell
 * steps apart by are whole multiples of the first, so that no point lies on both sides of one.
 */
const PRESSURE_BAND_PA = 0.25 * PA_PER_BAR
const RATED_SHARE = 0.0025
/** Where more points than this would be left, they are taken wider: for searches and slopes. */
const MOST_POINTS = 600
const WIDER = 4
const WIDEST = WIDER ** 4

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

const KIND_INDEX = Object.fromEntries(PHASE_KINDS.map((kind, k) => [kind, k]))
const KEY_PARTS = 9
/** What is not known is a band of its own. */
const UNKNOWN = -0x7fffffff

// Outside of `setKey`, for a function made at every step costs more than all the rest.
const band = (value: number, width: number) => (Number.isNaN(value) ? UNKNOWN : Math.round(value / width))
/** A value at the upper edge is of the band below it. */
const bandBelow = (value: number, width: number) => (Number.isNaN(value) ? UNKNOWN : Math.ceil(value / width))

interface Widths {
  readonly pressurePa: number
  readonly flowM3S: number
  readonly speedRadS: number
}

const widthsOf = ({ pump, motor }: MachineModel, wide: number): Widths => ({
  pressurePa: wide * PRESSURE_BAND_PA,
  flowM3S: wide * RATED_SHARE * pump.ratedFlowM3S,
  speedRadS: wide * RATED_SHARE * motor.synchronousRadS,
})

/** Sets the key to what steps have in common that go to one point, whatever their place in the log. */
function setKey(key: Int32Array, step: SupplyStep, means: StretchMeans, widths: Widths): void {
  key.fill(0)
  key[0] = KIND_INDEX[step.kind]
  if (!step.motorOn) return
  for (const name of MEAN_NAMES) key[1] = (key[1] << 1) | (Number.isNaN(means[name]) ? 1 : 0)
  key[2] = bandBelow(step.pressurePa, widths.pressurePa)
  key[3] = band(step.systemM3S, widths.flowM3S)
  key[4] = band(step.reliefM3S, widths.flowM3S)
  key[5] = step.speedRadS === null ? UNKNOWN : band(step.speedRadS, widths.speedRadS)
  if (isIdle(step)) return
  key[6] = band(step.loadPa, widths.pressurePa)
  key[7] = band(step.peakLoadPa, widths.pressurePa)
  key[8] = bandBelow(wholeNeedPa(step), widths.pressurePa)
}

/** Tells pieces of idles on different sides of the ages apart, and those that an idle ends with. */
function agePart({ order, motorOn, kind }: SupplyStep, agesS: readonly number[]): number {
  if (!motorOn || agesS.length === 0 || !isIdle({ kind })) return 0
  let part = order.idleEnds > 0 ? 1 : 0
  for (const age of agesS) {
    part = 8 * part + (isAsOldAs(order.idleAgeS, age) ? 1 : 0)
    part += (isAsOldAs(order.loadedAgeS, age) ? 2 : 0) + (order.idleS > age ? 4 : 0)
  }
  return part
}

const PEAK = MEAN_NAMES.length
const MORE_NEED = PEAK + 1

type OwnOrder = { -readonly [Key in keyof LogOrder]: LogOrder[Key] }

/** Takes what else a point holds of the order of the log: no idle of it is younger or shorter, and all end. */
function addOrder(to: OwnOrder, order: LogOrder): void {
  to.idleAgeS = Math.min(to.idleAgeS, order.idleAgeS)
  to.loadedAgeS = Math.min(to.loadedAgeS, order.loadedAgeS)
  to.idleS = Math.min(to.idleS, order.idleS)
  to.idleEnds += order.idleEnds
}

/** Steps to be put together, with their readings. */
interface Pieces {
  readonly steps: readonly SupplyStep[]
  meteredOf(k: number): Metered
}

/** Which point each piece goes to, and how many points there are. */
interface Numbering {
  readonly pointOf: Int32Array
  readonly count: number
}

function numberedByKey({ steps, meteredOf }: Pieces, widths: Widths): Numbering {
  const number = tupleIndex(KEY_PARTS)
  const key = new Int32Array(KEY_PARTS)
  const pointOf = new Int32Array(steps.length)
  let count = 0
  for (let k = 0; k < steps.length; k++) {
    setKey(key, steps[k], meteredOf(k).means, widths)
    pointOf[k] = number(key)
    count = Math.max(count, pointOf[k] + 1)
  }
  return { pointOf, count }
}

/** Numbers that tell apart what numbers without ages do, and idles on different sides of an age. */
function numberedByAge(
  steps: readonly SupplyStep[],
  numberOf: (k: number) => number,
  agesS: readonly number[],
): Numbering {
  const number = tupleIndex(2)
  const key = new Int32Array(2)
  const pointOf = new Int32Array(steps.length)
  let count = 0
  for (let k = 0; k < steps.length; k++) {
    key[0] = numberOf(k)
    key[1] = agePart(steps[k], agesS)
    pointOf[k] = number(key)
    count = Math.max(count, pointOf[k] + 1)
  }
  return { pointOf, count }
}

/** The pieces put together by their numbers. A piece that is like no other keeps its own readings. */
function putTogether({ steps, meteredOf }: Pieces, { pointOf, count }: Numbering): Alike[] {
  const firstOf = new Int32Array(count).fill(-1)
  const lasts = new Float64Array(count)
  const means: (Float64Array | null)[] = Array.from({ length: count }, () => null)
  const orders: (OwnOrder | null)[] = means.map(() => null)
  for (let k = 0; k < steps.length; k++) {
    const { durationS, order } = steps[k]
    const point = pointOf[k]
    lasts[point] += durationS
    if (firstOf[point] < 0) {
      firstOf[point] = k
      continue
    }
    const first = firstOf[point]
    let mean = means[point]
    let all = orders[point]
    if (!mean || !all) {
      mean = readingsOf(meteredOf(first), steps[first].order)
      means[point] = mean
      all = { ...steps[first].order }
      orders[point] = all
    }
    addOrder(all, order)
    // Means by increments: of equal readings they are exactly that reading.
    const share = lasts[point] > 0 ? durationS / lasts[point] : 0
    const metered = meteredOf(k)
    for (let i = 0; i < PEAK; i++) mean[i] += share * (metered.means[MEAN_NAMES[i]] - mean[i])
    mean[PEAK] += share * (metered.peakLoadPa - mean[PEAK])
    mean[MORE_NEED] += share * (order.moreNeedPa - mean[MORE_NEED])
  }
  return means.map((mean, point): Alike => {
    const { kind, startS, order } = steps[firstOf[point]]
    const first = meteredOf(firstOf[point])
    const durationS = lasts[point]
    if (!mean) return { kind, startS, durationS, means: first.means, peakLoadPa: first.peakLoadPa, order }
    return {
      kind,
      startS,
      durationS,
      means: meansBy((_, i) => mean[i]),
      peakLoadPa: mean[PEAK],
      order: { ...(orders[point] ?? order), moreNeedPa: mean[MORE_NEED] },
    }
  })
}

function readingsOf({ means, peakLoadPa }: Metered, { moreNeedPa }: LogOrder): Float64Array {
  const readings = new Float64Array(MORE_NEED + 1)
  for (let i = 0; i < PEAK; i++) readings[i] = means[MEAN_NAMES[i]]
  readings[PEAK] = peakLoadPa
  readings[MORE_NEED] = moreNeedPa
  return readings
}

/** What steps of a recording ask for, by number: all that differ, and the few wide bands that they lie in. */
export interface Asked {
  readonly numberOf: Int32Array
  /** By number; null where there are few anyway. */
  readonly wideOf: Int32Array | null
}

/** Numbers what the steps of a recording ask for. */
export function askedOf(steps: readonly Step[], supply: readonly SupplyStep[], model: MachineModel): Asked {
  const { pointOf, count } = numberedByKey({ steps: supply, meteredOf: (k) => steps[k] }, widthsOf(model, 1))
  if (count <= MOST_POINTS) return { numberOf: pointOf, wideOf: null }
  const first = new Int32Array(count).fill(-1)
  pointOf.forEach((point, k) => {
    if (first[point] < 0) first[point] = k
  })
  const firsts: Pieces = {
    steps: Array.from(first, (k) => supply[k]),
    meteredOf: (point) => steps[first[point]],
  }
  for (let wide = WIDER; ; wide *= WIDER) {
    const numbering = numberedByKey(firsts, widthsOf(model, wide))
    if (numbering.count <= MOST_POINTS || wide >= WIDEST)
      return { numberOf: pointOf, wideOf: numbering.pointOf }
  }
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
export function pointsOf(
  steps: readonly Step[],
  supply: readonly SupplyStep[],
  { numberOf, wideOf }: Asked,
  agesS: readonly number[],
): PointsAt {
  const cut = cutAtAges(supply, agesS)
  const pieces: Pieces = { steps: cut, meteredOf: (k) => steps[cut[k].step] }
  const asked = (k: number) => numberOf[cut[k].step]
  const inOrder = {
    durationS: Float64Array.from(cut, ({ durationS }) => durationS),
    stepOf: Int32Array.from(cut, ({ step }) => step),
  }
  const made = (numbering: Numbering): Points => ({
    ...inOrder,
    alike: putTogether(pieces, numbering),
    pointOf: numbering.pointOf,
  })
  const all = made(numberedByAge(cut, asked, agesS))
  return { all, few: wideOf ? made(numberedByAge(cut, (k) => wideOf[asked(k)], agesS)) : all }
}

/** Unbroken stretches of the pieces, evenly spread, with about `most` of them together. */
export function sampledPoints({ alike, pointOf, durationS, stepOf }: Points, most: number): Points {
  const pieces = Int32Array.from(sampleOf(Array.from(pointOf.keys()), most))
  const sampled = {
    pointOf: pieces.map((piece) => pointOf[piece]),
    durationS: Float64Array.from(pieces, (piece) => durationS[piece]),
    stepOf: pieces.map((piece) => stepOf[piece]),
  }
  const lasts = new Float64Array(alike.length)
  sampled.durationS.forEach((seconds, k) => {
    lasts[sampled.pointOf[k]] += seconds
  })
  return { ...sampled, alike: alike.map((one, k) => ({ ...one, durationS: lasts[k] })) }
}

/** The duty of the points under one set of parameter values. */
export function dutyUnder({ alike, pointOf, durationS, stepOf }: Points, under: Under): Duty {
  const points = alike.map((one, k) => suppliedStep(one, k, one.startS, one.order, under))
  return { points, pointOf, durationS, stepOf }
}
