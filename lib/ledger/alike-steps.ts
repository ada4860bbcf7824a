import { PHASE_KINDS } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { tupleIndex } from '@/lib/numeric/tuple-index'
import { MEAN_NAMES, meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { isSteady } from './step-frame'

/** Steps of one kind with about the same readings: their time together and the time-weighted means. */
export interface AlikeSteps {
  readonly kind: Step['kind']
  readonly durationS: number
  readonly isSteady: boolean
  readonly means: StretchMeans
}

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

/** Which of the items is alike to which earlier ones: a number each, in the order in which they are first met. */
function numbersOf(
  items: readonly Omit<AlikeSteps, 'durationS'>[],
  rated: Float64Array,
  share: number,
): Int32Array {
  const key = new Int32Array(MEAN_NAMES.length + 1)
  const numberOf = tupleIndex(key.length)
  const numbers = new Int32Array(items.length)
  for (let item = 0; item < items.length; item++) {
    const { kind, isSteady, means } = items[item]
    const width = isSteady ? share : UNSTEADY_WIDER * share
    key[0] = 2 * KIND_INDEX[kind] + (isSteady ? 1 : 0)
    for (let k = 0; k < MEAN_NAMES.length; k++) {
      const bands = means[MEAN_NAMES[k]] / (width * rated[k])
      key[k + 1] = Number.isNaN(bands) ? UNKNOWN : Math.round(bands)
    }
    numbers[item] = numberOf(key)
  }
  return numbers
}

function putTogether(items: readonly AlikeSteps[], rated: Float64Array, share: number): AlikeSteps[] {
  const numbers = numbersOf(items, rated, share)
  const count = numbers.reduce((most, number) => Math.max(most, number + 1), 0)
  const width = MEAN_NAMES.length
  const firsts = new Int32Array(count).fill(-1)
  const durationS = new Float64Array(count)
  const sums = new Float64Array(count * width)
  items.forEach((item, k) => {
    const number = numbers[k]
    if (firsts[number] < 0) firsts[number] = k
    durationS[number] += item.durationS
    for (let name = 0; name < width; name++) {
      sums[number * width + name] += item.means[MEAN_NAMES[name]] * item.durationS
    }
  })
  return Array.from(firsts, (first, number): AlikeSteps => {
    const { kind, isSteady, means } = items[first]
    return {
      kind,
      isSteady,
      durationS: durationS[number],
      means:
        durationS[number] > 0 ? meansBy((_, name) => sums[number * width + name] / durationS[number]) : means,
    }
  })
}

/**
 * Puts steps with like readings together. What varies little from one to the next follows the parameters alike,
 * so how results answer to a parameter is asked once a group and not once a step.
 */
export function alikeSteps(steps: readonly Step[], { motor, pump, relief }: MachineModel): AlikeSteps[] {
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
    cycleActive: Number.POSITIVE_INFINITY,
    idleSignal: Number.POSITIVE_INFINITY,
    solenoid: Number.POSITIVE_INFINITY,
  }
  const rated = Float64Array.from(MEAN_NAMES, (name) => ratedBy[name])
  const single = steps.map(({ kind, durationS, means }) => ({
    kind,
    durationS,
    isSteady: isSteady({ durationS }),
    means,
  }))
  let share = ALIKE_SHARE
  let groups = putTogether(single, rated, share)
  while (groups.length > MOST_GROUPS && share < WIDEST_SHARE) {
    share *= 2
    groups = putTogether(groups, rated, share)
  }
  return groups
}
