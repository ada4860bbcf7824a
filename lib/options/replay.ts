import type { Ledger } from '@/lib/ledger/ledger'
import type { ParameterValues } from '@/lib/ledger/parameters'
import { COVERAGE, type Reach, reachOfSum, type Sensitivity, sensitivity } from '@/lib/ledger/propagate'
import type { MachineModel } from '@/lib/machine/machine-model'
import { ratioSpread } from '@/lib/numeric/ratio-spread'
import type { Cycle } from '@/lib/phases/cycles'
import type { Step } from '@/lib/phases/stretch'
import { type SupplyChange, together } from './change'
import { type CarriedOut, carriedOut, type Duty, dutyOfSupply, pointWatts } from './duty'
import { kindDoubts } from './kind-doubt'
import { loggedSupply } from './logged-supply'
import { dutyUnder, type Points, sampledPoints } from './points'
import { pumpDoubt } from './pump-doubt'
import { recordingOf, underValues } from './recording'
import { sampleOf } from './sample'
import type { SupplyStep, Under } from './supply'

/** What a change does to the log, by the machine's model before and after. */
export interface Replayed {
  /** (before − after) / before, and how far its interval reaches for sensors and models. */
  readonly savedShare: number
  readonly reach: Reach
  /** Relative standard deviation that comes from seeing only these cycles; null with fewer than three. */
  readonly samplingShareSd: number | null
  /** Mean shaft power saved while the machine runs, W: heat that no longer enters the oil. */
  readonly lessHeatW: number
  /** What `reach` is put together from, for whoever asks how it came about. */
  readonly grounds: ReplayGrounds
}

/** Model energies of a replay, and what its interval holds. */
export interface ReplayGrounds {
  readonly beforeJ: number
  readonly afterJ: number
  /** How the saved shares of all changes answer to the parameters, and which of them this is. */
  readonly sensitivity: Sensitivity
  readonly index: number
  /** Standard deviations of the saved share beside the parameters': the replay's own, and the option's. */
  readonly replaySd: number
  readonly optionSd: number
}

export interface Replayable {
  readonly change: SupplyChange
  /** Misfit of the replay itself (1 sd), where it is not the usual one. */
  readonly replayShareSd?: number
  /** The same as a share of the input (1 sd), where there is any beside. */
  readonly replaySd?: number
}

/** Misfit of a replay itself beside its parameters, as a share of the saving (common practice, no source). */
const REPLAY_SHARE_SD = 0.012

/** Steps that the spread of savings is worked out on where their order matters; the savings themselves rest on all. */
const MOST_STEPS = 1000

/** The logged supply, or that of some of its steps, under one set of parameter values. */
export function supplyUnder(
  ledger: Ledger,
  values: ParameterValues = ledger.values,
  steps: readonly Step[] = ledger.segmentation.steps,
): Under & { supply: readonly SupplyStep[] } {
  if (values === ledger.values && steps === ledger.segmentation.steps) return recordingOf(ledger)
  const under = underValues(ledger, values)
  return { ...under, supply: loggedSupply(steps, ledger.trace.timeS, under) }
}

/** Which cycle each step of the recording is of, by its index; −1 outside of them. */
function cycleOfSteps(supply: readonly SupplyStep[], cycles: readonly Cycle[]): Int32Array {
  const cycleOf = new Int32Array(supply.length)
  let k = 0
  for (let i = 0; i < supply.length; i++) {
    const { startS } = supply[i]
    while (k < cycles.length && startS >= cycles[k].endS - 1e-6) k++
    cycleOf[i] = k < cycles.length && startS >= cycles[k].startS - 1e-6 ? k : -1
  }
  return cycleOf
}

const shareOf = (beforeJ: number, afterJ: number) => (beforeJ > 0 ? (beforeJ - afterJ) / beforeJ : 0)

/** What a change is replayed on: points whose order is all the same, the same in their order, or every step by itself. */
type Basis = 'points' | 'order' | 'steps'

function basisOf({ parts }: SupplyChange): Basis {
  if (!parts) return 'steps'
  return parts.every((part) => 'each' in part) ? 'points' : 'order'
}

/** A duty as it is, and what it takes. */
interface Before {
  readonly duty: Duty
  readonly logged: CarriedOut
}

/** Duties by the basis that asks for them, each made and reckoned once. */
function beforeBy(make: (basis: Basis) => Duty, model: MachineModel): (change: SupplyChange) => Before {
  const made = new Map<Basis, Before>()
  return (change) => {
    const basis = basisOf(change)
    let before = made.get(basis)
    if (!before) {
      const duty = make(basis)
      before = { duty, logged: carriedOut(duty, null, model) }
      made.set(basis, before)
    }
    return before
  }
}

/**
 * Replays the logged demand with each changed supply. A saving is model(before) − model(after) on the
 * same demand, so model bias mostly cancels; its spread follows from the parameters' covariance. What looks at one
 * step at a time is replayed on operating points, where no step is too many.
 */
export function replayAll(
  ledger: Ledger,
  changes: readonly Replayable[],
  cycles: readonly Cycle[],
): Replayed[] {
  const { steps } = ledger.segmentation
  const agesS = together(changes.map(({ change }) => change)).agesS ?? []
  const recording = recordingOf(ledger)
  const { supply, model } = recording
  const { all, few } = recording.pointsAt(agesS)
  const sample = sampleOf(steps, MOST_STEPS)
  const fewInOrder = sampledPoints(few, MOST_STEPS)
  const sharesOf = (before: (change: SupplyChange) => Before, under: MachineModel) =>
    Float64Array.from(changes, ({ change }) => {
      const { duty, logged } = before(change)
      return shareOf(logged.electricJ, carriedOut(duty, change, under).electricJ)
    })
  const sharesUnder = (values: ParameterValues) => {
    const moved = underValues(ledger, values)
    const before = beforeBy((basis) => {
      if (basis === 'steps') return dutyOfSupply(supplyUnder(ledger, values, sample).supply)
      return dutyUnder(basis === 'points' ? few : fewInOrder, moved)
    }, moved.model)
    return sharesOf(before, moved.model)
  }
  const sharesOn = (points: Points, stepsInstead: readonly Step[], under: Under = recording) => {
    const before = beforeBy((basis) => {
      if (basis === 'steps') return dutyOfSupply(loggedSupply(stepsInstead, ledger.trace.timeS, under))
      return dutyUnder(basis === 'points' ? points : sampledPoints(points, MOST_STEPS), under)
    }, under.model)
    return sharesOf(before, under.model)
  }
  const byPumps = pumpDoubt(ledger, few, sharesOn)
  const byKinds = kindDoubts(ledger, sharesUnder(ledger.values), (other, stepsInstead) =>
    sharesOn(other.fewAt(agesS), sampleOf(stepsInstead, MOST_STEPS), other),
  )
  const sensitivityOfShares = sensitivity(sharesUnder, ledger.values, ledger.covariance, byPumps, byKinds)
  const dutyOfPoints = dutyUnder(all, recording)
  const loggedFor = beforeBy((basis) => (basis === 'steps' ? dutyOfSupply(supply) : dutyOfPoints), model)
  const runningS = supply.reduce((sum, step) => sum + (step.motorOn ? step.durationS : 0), 0)
  const cycleOf = cycleOfSteps(supply, cycles)
  const cycleLengths = cycles.map((cycle) => cycle.endS - cycle.startS)
  const inCycles = (of: CarriedOut) => {
    const energiesJ = new Float64Array(cycles.length)
    if (cycles.length === 0) return energiesJ
    const { pointOf, durationS, stepOf } = of.duty
    const watts = pointWatts(of)
    for (let k = 0; k < pointOf.length; k++) {
      const cycle = cycleOf[stepOf[k]]
      if (cycle >= 0) energiesJ[cycle] += durationS[k] * watts[pointOf[k]]
    }
    return energiesJ
  }
  const loggedInCycles = new Map<CarriedOut, Float64Array>()
  return changes.map(({ change, replayShareSd, replaySd }, k) => {
    const { duty, logged: before } = loggedFor(change)
    const after = carriedOut(duty, change, model)
    const beforeInCycles = loggedInCycles.get(before) ?? inCycles(before)
    loggedInCycles.set(before, beforeInCycles)
    const savedInCycles = inCycles(after).map((energyJ, cycle) => beforeInCycles[cycle] - energyJ)
    const { below, above } = reachOfSum(sensitivityOfShares, new Map([[k, 1]]))
    const savedShare = shareOf(before.electricJ, after.electricJ)
    const grounds = {
      beforeJ: before.electricJ,
      afterJ: after.electricJ,
      sensitivity: sensitivityOfShares,
      index: k,
      replaySd: (replayShareSd ?? REPLAY_SHARE_SD) * savedShare,
      optionSd: replaySd ?? 0,
    }
    const own = COVERAGE * Math.hypot(grounds.replaySd, grounds.optionSd)
    return {
      savedShare,
      // Nothing saves more than all there is.
      reach: { below: Math.hypot(below, own), above: Math.min(Math.hypot(above, own), 1 - savedShare) },
      samplingShareSd: ratioSpread(savedInCycles, cycleLengths),
      lessHeatW: runningS > 0 ? (before.shaftJ - after.shaftJ) / runningS : 0,
      grounds,
    }
  })
}
