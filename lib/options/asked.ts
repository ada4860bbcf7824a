import { PHASE_KINDS } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { tupleIndex } from '@/lib/numeric/tuple-index'
import { PA_PER_BAR } from '@/lib/units'
import { isIdle, wholeNeedPa } from './order'
import type { SupplyStep } from './supply'

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
function setKey(key: Int32Array, step: SupplyStep, silent: number, widths: Widths): void {
  key.fill(0)
  key[0] = KIND_INDEX[step.kind]
  if (!step.motorOn) return
  key[1] = silent
  key[2] = bandBelow(step.pressurePa, widths.pressurePa)
  key[3] = band(step.systemM3S, widths.flowM3S)
  key[4] = band(step.reliefM3S, widths.flowM3S)
  key[5] = step.speedRadS === null ? UNKNOWN : band(step.speedRadS, widths.speedRadS)
  if (isIdle(step)) return
  key[6] = band(step.loadPa, widths.pressurePa)
  key[7] = band(step.peakLoadPa, widths.pressurePa)
  key[8] = bandBelow(wholeNeedPa(step), widths.pressurePa)
}

/** Which number each step has, and how many numbers there are. */
export interface Numbering {
  readonly numberOf: Int32Array
  readonly count: number
}

/** Numbers steps, given by their places in the supply, so that those of one key have one number. */
function numbered(
  places: Int32Array,
  supply: readonly SupplyStep[],
  silent: Int32Array,
  widths: Widths,
): Numbering {
  const number = tupleIndex(KEY_PARTS)
  const key = new Int32Array(KEY_PARTS)
  const numberOf = new Int32Array(places.length)
  let count = 0
  for (let k = 0; k < places.length; k++) {
    setKey(key, supply[places[k]], silent[places[k]], widths)
    numberOf[k] = number(key)
    count = Math.max(count, numberOf[k] + 1)
  }
  return { numberOf, count }
}

/** Where each number is first met. */
export function firstsOf({ numberOf, count }: Numbering): Int32Array {
  const first = new Int32Array(count).fill(-1)
  for (let k = 0; k < numberOf.length; k++) if (first[numberOf[k]] < 0) first[numberOf[k]] = k
  return first
}

/** What steps of a recording ask for, by number: all that differ, and the few wide bands that they lie in. */
export interface Asked {
  readonly numberOf: Int32Array
  /** By number; null where there are few anyway. */
  readonly wideOf: Int32Array | null
}

/**
 * Numbers what the steps of a recording ask for.
 * @param silent which of their readings are silent, a bit each
 */
export function askedOf(supply: readonly SupplyStep[], silent: Int32Array, model: MachineModel): Asked {
  const places = Int32Array.from(supply.keys())
  const all = numbered(places, supply, silent, widthsOf(model, 1))
  if (all.count <= MOST_POINTS) return { numberOf: all.numberOf, wideOf: null }
  const firsts = firstsOf(all)
  for (let wide = WIDER; ; wide *= WIDER) {
    const { numberOf, count } = numbered(firsts, supply, silent, widthsOf(model, wide))
    if (count <= MOST_POINTS || wide >= WIDEST) return { numberOf: all.numberOf, wideOf: numberOf }
  }
}
