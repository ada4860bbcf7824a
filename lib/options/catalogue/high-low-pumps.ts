import { hasFurtherSets, hasPumpBesideLine, lineDisplacementCm3 } from '@/lib/contract/arrangement'
import type { MachineModel } from '@/lib/machine/machine-model'
import { scaledPump } from '@/lib/machine/pump'
import { reliefSlope } from '@/lib/machine/relief'
import { PA_PER_BAR } from '@/lib/units'
import { eachStep } from '../change'
import type { CarriedOut } from '../duty'
import { note, notJudged, type Option, refused, type Tried } from '../option'
import { CYCLE_TIME_LIMIT_SHARE, cycleTimeChange, LIMIT_RANGE, starve } from '../serve'
import { refusedSetting, savedShareOf, shownOf } from '../settings'
import { type Ways, waysDoubt, waysOf } from '../starved'
import type { SupplyStep, WorkingStep } from '../supply'
import { type PowerUnit, replacing, unitFlowM3S } from '../unit'

/** Shares of the displacement tried for the small pump are whole multiples of this. */
const SIZE_STEP = 0.05
const SHARES = Array.from({ length: Math.round(1 / SIZE_STEP) - 1 }, (_, k) => (k + 1) * SIZE_STEP)
/** Unloading pressures tried are whole multiples of this. */
const PRESSURE_STEP_BAR = 5
/** Once unloaded, the large pump helps again below this share of the unloading pressure (common practice, no source). */
const RELOAD_SHARE = 0.85
/** The large pump is back long before the relief opens. */
const BELOW_CRACKING_SHARE = 0.95
/** Working time in which the pair would hunt between its two states, as a share, that is still called transition. */
const UNSTEADY_LIMIT_SHARE = 0.02

/**
 * Between two levels the pressure passes the unloading pressure: how long such a moment lasts with one pump less is not
 * known, and efficiencies of other sizes differ a little (common practice, no source).
 */
const REPLAY_SHARE_SD = 0.05

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('force-at-high-pressure-slow'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

interface Pair {
  readonly smallShare: number
  readonly unloadPa: number
}

/**
 * Puts a step on the pair. False where nobody can say which pumps serve it, and it stays as it is: between reloading
 * and unloading pressure that depends on what went before, and where both together are too high and the small
 * one alone too low the pair hunts.
 */
function serveByPair(
  step: WorkingStep,
  unit: PowerUnit,
  { unloadPa }: Pair,
  model: MachineModel,
  ways: Ways,
): boolean {
  const reloadPa = RELOAD_SHARE * unloadPa
  if (!step.motorOn || step.kind === 'idle-unloaded' || !(step.pressurePa > reloadPa)) return true
  if (step.pressurePa <= unloadPa) return false
  const smallM3S = unitFlowM3S(unit, step.pressurePa)
  if (step.kind === 'work-moving' || smallM3S < step.systemM3S) {
    // A stroke's own pressure is about its load's; what metering meets only a sensor tells.
    const moves = step.kind === 'work-moving'
    const alonePa = moves && Number.isNaN(step.loadPa) ? step.pressurePa : step.loadPa
    if (!(alonePa >= reloadPa)) return false
    step.unit = unit
    starve(step, unit, model.relief, ways)
    return true
  }
  // The small pump gives what is asked for; the rest of it passes the relief, lower on its line.
  const reliefM3S = smallM3S - Math.max(0, step.systemM3S)
  const less = reliefSlope(model.relief) * (Math.max(0, step.reliefM3S) - reliefM3S)
  step.unit = unit
  step.reliefM3S = reliefM3S
  step.pressurePa -= Math.max(0, less)
  return true
}

const highLow = (pair: Pair, ways: Ways, count?: { unsteadyS: number }) =>
  eachStep((model) => {
    const units = replacing(model, (unit) => ({
      ...unit,
      pump: scaledPump(unit.pump, pair.smallShare),
      unloaded: { pump: scaledPump(unit.pump, 1 - pair.smallShare), pressurePa: model.unloadingPa },
    }))
    return (step) => {
      const served = serveByPair(step, units(step).after, pair, model, ways)
      if (!served && count) count.unsteadyS += step.durationS
    }
  })

/** Unloading pressures worth trying, Pa: such that one stroke after the other still has both pumps. */
function unloadingPressures(points: readonly SupplyStep[], highestPa: number): number[] {
  const stepPa = PRESSURE_STEP_BAR * PA_PER_BAR
  const above = points
    .filter((step) => step.kind === 'work-moving' || step.kind === 'work-metering')
    .map((step) => stepPa * Math.ceil(step.pressurePa / RELOAD_SHARE / stepPa))
  return [...new Set(above)].filter((pressure) => pressure < highestPa).sort((a, b) => a - b)
}

/** Every unloading pressure that is tried from one on, Pa. */
function multiplesFrom(lowestPa: number, highestPa: number): number[] {
  const stepPa = PRESSURE_STEP_BAR * PA_PER_BAR
  const first = Math.ceil(lowestPa / stepPa)
  const count = Math.max(0, Math.ceil(highestPa / stepPa) - first)
  return Array.from({ length: count }, (_, k) => (first + k) * stepPa)
}

interface Split {
  readonly after: CarriedOut
  readonly feasible: boolean
}

/**
 * The smallest of the rising shares that is feasible, with what it comes to; null where none is. The larger the small
 * pump, the fewer strokes get longer and the less the pair hunts: once feasible, all larger ones are.
 */
function smallestFeasible(
  shares: readonly number[],
  tried: (share: number) => Split,
): (Split & { share: number }) | null {
  let [low, high] = [0, shares.length - 1]
  let found = { ...tried(shares[high]), share: shares[high] }
  if (!found.feasible) return null
  while (low < high) {
    const middle = (low + high) >> 1
    const split = { ...tried(shares[middle]), share: shares[middle] }
    if (split.feasible) {
      found = split
      high = middle
    } else low = middle + 1
  }
  return found
}

/**
 * Two pumps on one shaft, together as large as the present one: above the unloading pressure the large one
 * goes to tank and the small one carries the pressure. Split and pressure are those that save most within
 * the cycle-time limit.
 */
export const highLowPumps: Option = {
  id: 'high-low-pumps',
  plan({ machine, duty, rough, supply, model }, given = {}) {
    const limitShare = given.cycleTimeLimitShare ?? CYCLE_TIME_LIMIT_SHARE
    const settings = { smallPumpCm3: null, unloadBar: null, cycleTimeLimitShare: limitShare }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (hasPumpBesideLine(machine) || hasFurtherSets(machine))
      return notJudged(note('several-pumps'), settings)
    if (!(rough.workS > 0)) return notJudged(note('no-work-logged'), settings)
    const wholeCm3 = lineDisplacementCm3(machine)
    const highestPa = BELOW_CRACKING_SHARE * model.relief.crackingPa
    const wrong = refusedSetting(given, {
      smallPumpCm3: [SIZE_STEP * wholeCm3, (1 - SIZE_STEP) * wholeCm3],
      unloadBar: [model.unloadingPa / RELOAD_SHARE / PA_PER_BAR, highestPa / PA_PER_BAR],
      cycleTimeLimitShare: LIMIT_RANGE,
    })
    if (wrong) return refused([wrong], settings)
    const pressures =
      given.unloadBar === undefined
        ? unloadingPressures(rough.duty.points, highestPa)
        : [given.unloadBar * PA_PER_BAR]
    const shares = given.smallPumpCm3 === undefined ? SHARES : [given.smallPumpCm3 / wholeCm3]
    const ways = waysOf(supply, model.relief)
    const tried = (pair: Pair) => {
      const count = { unsteadyS: 0 }
      const after = rough.with(highLow(pair, ways, count))
      const steady = count.unsteadyS <= UNSTEADY_LIMIT_SHARE * rough.workS
      return { after, feasible: steady && cycleTimeChange(rough, after) <= limitShare }
    }
    let best: (Pair & { energy: number }) | null = null
    // What a person set is shown even where it costs energy.
    const isGiven = given.smallPumpCm3 !== undefined || given.unloadBar !== undefined
    const nowJ = isGiven ? Number.POSITIVE_INFINITY : rough.electricJ
    for (const unloadPa of pressures) {
      // A larger small pump only wastes more.
      const split = smallestFeasible(shares, (smallShare) => tried({ smallShare, unloadPa }))
      if (split && split.after.electricJ < (best?.energy ?? nowJ)) {
        best = { smallShare: split.share, unloadPa, energy: split.after.electricJ }
      }
    }
    if (!best) return refused([note('no-pump-split', { limitShare })], settings)
    const { smallShare, unloadPa } = best
    const along = (setting: string, value: number, pair: Pair): Tried => {
      const { after, feasible } = tried(pair)
      return { setting, value, savedShare: savedShareOf(rough, after), feasible }
    }
    const change = highLow(best, ways)
    const longer = cycleTimeChange(duty, duty.with(change))
    return {
      judged: true,
      reasons: [],
      settings: { ...settings, smallPumpCm3: smallShare * wholeCm3, unloadBar: unloadPa / PA_PER_BAR },
      change,
      replayShareSd: REPLAY_SHARE_SD,
      replaySd: waysDoubt(rough, ways, (other) => highLow({ smallShare, unloadPa }, other)),
      cycleTimeChangeShare: longer,
      searched: [
        ...shownOf(SHARES, smallShare).map((share) =>
          along('smallPumpCm3', share * wholeCm3, { smallShare: share, unloadPa }),
        ),
        ...shownOf(multiplesFrom(Math.min(unloadPa, ...pressures), highestPa), unloadPa).map((pressurePa) =>
          along('unloadBar', pressurePa / PA_PER_BAR, { smallShare, unloadPa: pressurePa }),
        ),
      ],
      cautions: longer > 1e-6 ? [note('cycle-time-penalty', { share: longer }), ...CAUTIONS] : CAUTIONS,
    }
  },
}
