import { PHASE_KINDS } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { tupleIndex } from '@/lib/numeric/tuple-index'
import { MEAN_NAMES, meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { PA_PER_BAR } from '@/lib/units'
import type { Duty } from './duty'
import { cutAtAges, isAsOldAs, isIdle, type LogOrder, wholeNeedPa } from './order'
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
const KEY_PARTS = 12
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

/** Sets the key to what steps have in common that go to one point. */
function setKey(
  key: Int32Array,
  step: SupplyStep,
  means: StretchMeans,
  agesS: readonly number[],
  widths: Widths,
) {
  const { order } = step
  key.fill(0)
  key[0] = KIND_INDEX[step.kind]
  if (!step.motorOn) return
  for (const name of MEAN_NAMES) key[1] = (key[1] << 1) | (Number.isNaN(means[name]) ? 1 : 0)
  key[2] = bandBelow(step.pressurePa, widths.pressurePa)
  key[3] = band(step.systemM3S, widths.flowM3S)
  key[4] = band(step.reliefM3S, widths.flowM3S)
  key[5] = step.speedRadS === null ? UNKNOWN : band(step.speedRadS, widths.speedRadS)
  if (isIdle(step)) {
    for (const age of agesS) {
      key[6] = 8 * key[6] + (isAsOldAs(order.idleAgeS, age) ? 1 : 0)
      key[6] += (isAsOldAs(order.loadedAgeS, age) ? 2 : 0) + (order.idleS > age ? 4 : 0)
    }
    key[7] = order.idleEnds > 0 ? 1 : 0
    return
  }
  key[8] = band(step.loadPa, widths.pressurePa)
  key[9] = band(step.peakLoadPa, widths.pressurePa)
  key[10] = bandBelow(wholeNeedPa(step), widths.pressurePa)
}

const WIDTH = MEAN_NAMES.length + 2
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

/** Puts steps together that are alike; `pointOf` tells which of them went where. */
function putTogether(
  steps: readonly SupplyStep[],
  meteredOf: (step: SupplyStep, k: number) => Metered,
  agesS: readonly number[],
  widths: Widths,
): { alike: Alike[]; pointOf: Int32Array } {
  const number = tupleIndex(KEY_PARTS)
  const key = new Int32Array(KEY_PARTS)
  const pointOf = new Int32Array(steps.length)
  const firsts: SupplyStep[] = []
  const orders: OwnOrder[] = []
  const lasts: number[] = []
  const means: Float64Array[] = []
  for (let k = 0; k < steps.length; k++) {
    const step = steps[k]
    const metered = meteredOf(step, k)
    setKey(key, step, metered.means, agesS, widths)
    const point = number(key)
    pointOf[k] = point
    const isFirst = point === firsts.length
    if (isFirst) {
      firsts.push(step)
      orders.push({ ...step.order })
      lasts.push(0)
      means.push(new Float64Array(WIDTH))
    } else addOrder(orders[point], step.order)
    lasts[point] += step.durationS
    // Means by increments: of equal readings they are exactly that reading.
    const share = isFirst ? 1 : lasts[point] > 0 ? step.durationS / lasts[point] : 0
    const mean = means[point]
    for (let i = 0; i < PEAK; i++) mean[i] += share * (metered.means[MEAN_NAMES[i]] - mean[i])
    mean[PEAK] += share * (metered.peakLoadPa - mean[PEAK])
    mean[MORE_NEED] += share * (step.order.moreNeedPa - mean[MORE_NEED])
  }
  const alike = firsts.map(
    ({ startS, kind }, k): Alike => ({
      kind,
      startS,
      durationS: lasts[k],
      means: meansBy((_, i) => means[k][i]),
      peakLoadPa: means[k][PEAK],
      order: { ...orders[k], moreNeedPa: means[k][MORE_NEED] },
    }),
  )
  return { alike, pointOf }
}

/**
 * The distinct operating points of a recording. No point holds idles on both sides of one of the ages, s. Held
 * against replays of every step in the tests.
 */
export function pointsOf(
  steps: readonly Step[],
  supply: readonly SupplyStep[],
  agesS: readonly number[],
  model: MachineModel,
): Points {
  const pieces = cutAtAges(supply, agesS)
  return {
    ...putTogether(pieces, ({ step }) => steps[step], agesS, widthsOf(model, 1)),
    durationS: Float64Array.from(pieces, ({ durationS }) => durationS),
    stepOf: Int32Array.from(pieces, ({ step }) => step),
  }
}

/** The same by fewer points, where there are many. */
export function fewerPoints(points: Points, agesS: readonly number[], under: Under): Points {
  if (points.alike.length <= MOST_POINTS) return points
  const { points: steps } = dutyUnder(points, under)
  for (let wide = WIDER; ; wide *= WIDER) {
    const fewer = putTogether(steps, (_, k) => points.alike[k], agesS, widthsOf(under.model, wide))
    if (fewer.alike.length > MOST_POINTS && wide < WIDEST) continue
    return { ...points, alike: fewer.alike, pointOf: points.pointOf.map((point) => fewer.pointOf[point]) }
  }
}

/** The duty of the points under one set of parameter values. */
export function dutyUnder({ alike, pointOf, durationS, stepOf }: Points, under: Under): Duty {
  const points = alike.map((one, k) => suppliedStep(one, k, one.startS, one.order, under))
  return { points, pointOf, durationS, stepOf }
}
