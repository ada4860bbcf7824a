import { PHASE_KINDS } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { tupleIndex } from '@/lib/numeric/tuple-index'
import { PA_PER_BAR } from '@/lib/units'
import { isIdle, wholeNeedPa } from './order'
import type { SupplyStep } from './supply'

/** Widths of a point: pressures in bar, flow and speed as shares of what is rated. */
interface Bands {
  readonly pressureBar: number
  readonly flowShare: number
  /** What passes the relief is what the pump gives less what is asked for: it need not be told finely as well. */
  readonly reliefShare: number
  readonly loadBar: number
  readonly needBar: number
}

/**
 * From narrow to wide. Pressures that options tell steps apart by are whole multiples of the first five, so that no
 * point lies on both sides of one. Input goes almost straight with every reading, so a point stands for its steps but
 * where an option treats some of them otherwise than others: that hangs on the flow most, and on the whole need.
 */
const BANDS: readonly Bands[] = [
  { pressureBar: 0.25, flowShare: 0.0025, reliefShare: 0.0025, loadBar: 0.25, needBar: 0.25 },
  { pressureBar: 1.25, flowShare: 0.01, reliefShare: 0.1, loadBar: 5, needBar: 5 },
  { pressureBar: 2.5, flowShare: 0.02, reliefShare: 0.1, loadBar: 20, needBar: 5 },
  { pressureBar: 5, flowShare: 0.04, reliefShare: 0.2, loadBar: 20, needBar: 5 },
  { pressureBar: 10, flowShare: 0.08, reliefShare: 0.2, loadBar: 40, needBar: 5 },
]
/** Where more distinct points than this would be left, they are taken wider, once: savings stay within 0.1 % of themselves. */
const MOST_DISTINCT = 5000
const WIDEST_DISTINCT = 1
/** So many at most, as wide as that takes, for searches and slopes. */
const MOST_FEW = 600

const KIND_INDEX = Object.fromEntries(PHASE_KINDS.map((kind, k) => [kind, k]))
const KEY_PARTS = 9
/** What is not known is a band of its own. */
const UNKNOWN = -0x7fffffff

// Outside of `setKey`, for a function made at every step costs more than all the rest.
const band = (value: number, width: number) => (Number.isNaN(value) ? UNKNOWN : Math.round(value / width))
/** A value at the upper edge is of the band below it. */
const bandBelow = (value: number, width: number) => (Number.isNaN(value) ? UNKNOWN : Math.ceil(value / width))

/** Bands of a machine in SI units. */
interface Widths {
  readonly pressurePa: number
  readonly flowM3S: number
  readonly reliefM3S: number
  readonly speedRadS: number
  readonly loadPa: number
  readonly needPa: number
}

function widthsOf({ pump, motor }: MachineModel, bands: Bands): Widths {
  return {
    pressurePa: bands.pressureBar * PA_PER_BAR,
    flowM3S: bands.flowShare * pump.ratedFlowM3S,
    reliefM3S: bands.reliefShare * pump.ratedFlowM3S,
    speedRadS: bands.flowShare * motor.synchronousRadS,
    loadPa: bands.loadBar * PA_PER_BAR,
    needPa: bands.needBar * PA_PER_BAR,
  }
}

/** Sets the key to what steps have in common that go to one point, whatever their place in the log. */
function setKey(key: Int32Array, step: SupplyStep, silent: number, widths: Widths): void {
  key.fill(0)
  key[0] = KIND_INDEX[step.kind]
  if (!step.motorOn) return
  key[1] = silent
  key[2] = bandBelow(step.pressurePa, widths.pressurePa)
  key[3] = band(step.systemM3S, widths.flowM3S)
  key[4] = band(step.reliefM3S, widths.reliefM3S)
  key[5] = step.speedRadS === null ? UNKNOWN : band(step.speedRadS, widths.speedRadS)
  if (isIdle(step)) return
  key[6] = band(step.loadPa, widths.loadPa)
  key[7] = band(step.peakLoadPa, widths.loadPa)
  key[8] = bandBelow(wholeNeedPa(step), widths.needPa)
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
export interface Asked extends Numbering {
  /** By number; null where there are few anyway. */
  readonly few: Numbering | null
}

/**
 * Numbers what the steps of a recording ask for.
 * @param silent which of their readings are silent, a bit each
 */
export function askedOf(supply: readonly SupplyStep[], silent: Int32Array, model: MachineModel): Asked {
  const within = (places: Int32Array, level: number) =>
    numbered(places, supply, silent, widthsOf(model, BANDS[level]))
  let level = 0
  let all = within(Int32Array.from(supply.keys()), level)
  while (all.count > MOST_DISTINCT && level < WIDEST_DISTINCT) {
    level++
    const { numberOf, count } = within(firstsOf(all), level)
    all = { numberOf: all.numberOf.map((number) => numberOf[number]), count }
  }
  if (all.count <= MOST_FEW) return { ...all, few: null }
  const firsts = firstsOf(all)
  let few = all
  while (few.count > MOST_FEW && level < BANDS.length - 1) {
    level++
    few = within(firsts, level)
  }
  return { ...all, few }
}
