import { PHASE_KINDS } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { tupleIndex } from '@/lib/numeric/tuple-index'
import { meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { isSteady } from './step-frame'

/** Steps of one kind with about the same readings: their time together and the time-weighted means. */
export interface AlikeSteps {
  readonly kind: Step['kind']
  readonly durationS: number
  readonly isSteady: boolean
  readonly means: StretchMeans
}

/** Steps, or some of them put together. */
type Like = Pick<AlikeSteps, 'kind' | 'durationS' | 'means'>

/** Readings nearer than this share of what is rated are alike. */
const ALIKE_SHARE = 0.005
/** Transitions are many, each unlike the next, and short: alike within this many times as much. */
const UNSTEADY_WIDER = 8
/** Where more groups than this would be left, readings twice as far apart are alike, over and over. */
const MOST_GROUPS = 800
const WIDEST_SHARE = 0.08

const KIND_INDEX = Object.fromEntries(PHASE_KINDS.map((kind, k) => [kind, k]))
/** What is not known is a band of its own. */
const UNKNOWN = -0x7fffffff

/** The readings that there are, with what is rated of each. */
type Rated = readonly { readonly name: keyof StretchMeans; readonly value: number }[]

/** Which of the items is alike to which earlier ones: a number each, in the order in which they are first met. */
function numbersOf<Item extends Like>(
  items: readonly Item[],
  isSteadyItem: (item: Item) => boolean,
  rated: Rated,
  share: number,
): Int32Array {
  const key = new Int32Array(rated.length + 1)
  const numberOf = tupleIndex(key.length)
  const numbers = new Int32Array(items.length)
  for (let item = 0; item < items.length; item++) {
    const { kind, means } = items[item]
    const isSteady = isSteadyItem(items[item])
    const width = isSteady ? share : UNSTEADY_WIDER * share
    key[0] = 2 * KIND_INDEX[kind] + (isSteady ? 1 : 0)
    for (let k = 0; k < rated.length; k++) {
      const bands = means[rated[k].name] / (width * rated[k].value)
      key[k + 1] = Number.isNaN(bands) ? UNKNOWN : Math.round(bands)
    }
    numbers[item] = numberOf(key)
  }
  return numbers
}

function putTogether<Item extends Like>(
  items: readonly Item[],
  isSteadyItem: (item: Item) => boolean,
  rated: Rated,
  share: number,
): AlikeSteps[] {
  const numbers = numbersOf(items, isSteadyItem, rated, share)
  const count = numbers.reduce((most, number) => Math.max(most, number + 1), 0)
  const width = rated.length
  const firsts = new Int32Array(count).fill(-1)
  const durationS = new Float64Array(count)
  const sums = new Float64Array(count * width)
  for (let k = 0; k < items.length; k++) {
    const { durationS: seconds, means } = items[k]
    const number = numbers[k]
    if (firsts[number] < 0) firsts[number] = k
    durationS[number] += seconds
    for (let at = 0; at < width; at++) sums[number * width + at] += means[rated[at].name] * seconds
  }
  const placeOf = new Map(rated.map(({ name }, at) => [name, at]))
  return Array.from(firsts, (first, number): AlikeSteps => {
    const { kind, means } = items[first]
    return {
      kind,
      isSteady: isSteadyItem(items[first]),
      durationS: durationS[number],
      means:
        durationS[number] > 0
          ? meansBy((name) => sums[number * width + (placeOf.get(name) ?? Number.NaN)] / durationS[number])
          : means,
    }
  })
}

/**
 * Puts steps with like readings together. What varies little from one to the next follows the parameters alike,
 * so how results answer to a parameter is asked once a group and not once a step.
 */
export function alikeSteps(
  steps: readonly Step[],
  names: readonly (keyof StretchMeans)[],
  { motor, pump, relief }: MachineModel,
): AlikeSteps[] {
  const ratedBy: Readonly<Record<keyof StretchMeans, number>> = {
    pumpPressurePa: relief.settingPa,
    loadPressurePa: relief.settingPa,
    pumpFlowM3S: pump.ratedFlowM3S,
    systemFlowM3S: pump.ratedFlowM3S,
    returnFlowM3S: pump.ratedFlowM3S,
    caseDrainM3S: pump.ratedFlowM3S,
    currentA: motor.ratedCurrentA,
    powerW: motor.ratedInputW,
    voltageV: motor.ratedVoltageV,
    speedRadS: motor.synchronousRadS,
    // Its numbers stay apart however wide the bands are.
    pumpState: 1,
    cycleActive: Number.POSITIVE_INFINITY,
    idleSignal: Number.POSITIVE_INFINITY,
    solenoid: Number.POSITIVE_INFINITY,
  }
  const rated = names.map((name) => ({ name, value: ratedBy[name] }))
  let share = ALIKE_SHARE
  let groups = putTogether(steps, isSteady, rated, share)
  while (groups.length > MOST_GROUPS && share < WIDEST_SHARE) {
    share *= 2
    groups = putTogether(groups, (group) => group.isSteady, rated, share)
  }
  return groups
}
