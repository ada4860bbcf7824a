import { curveWith, type Ledger } from '@/lib/ledger/ledger'
import { modelWith, type ParameterValues } from '@/lib/ledger/parameters'
import { COVERAGE, type Reach, reachOfSum, type Sensitivity, sensitivity } from '@/lib/ledger/propagate'
import type { MachineModel } from '@/lib/machine/machine-model'
import { ratioSpread } from '@/lib/numeric/ratio-spread'
import type { Cycle } from '@/lib/phases/cycles'
import type { Step } from '@/lib/phases/stretch'
import { sampleOf } from './sample'
import { loggedSupply, type SupplyChange, type SupplyStep } from './supply'
import { eachEnergy, energiesOf } from './supply-energies'

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

/** Steps that the spread of savings is worked out on, in unbroken stretches; the savings themselves rest on all. */
const MOST_STEPS = 1000

/**
 * The logged supply under one set of parameter values, with the models that go with them; the relief's is
 * the line found in the log.
 */
export function supplyUnder(
  ledger: Ledger,
  values: ParameterValues = ledger.values,
  steps: readonly Step[] = ledger.segmentation.steps,
): { supply: SupplyStep[]; model: MachineModel } {
  const curve = curveWith(ledger.curve, values, ledger.values)
  const model = { ...modelWith(ledger.machine, values), relief: curve }
  return { model, supply: loggedSupply(steps, ledger.trace.timeS, model, curve, values) }
}

/** Which cycle each step of the recording is of, by its index; −1 outside of them. */
function cycleOfSteps(supply: readonly SupplyStep[], cycles: readonly Cycle[]): Int32Array {
  let k = 0
  return Int32Array.from(supply, ({ startS }) => {
    while (k < cycles.length && startS >= cycles[k].endS - 1e-6) k++
    return k < cycles.length && startS >= cycles[k].startS - 1e-6 ? k : -1
  })
}

const shareOf = (beforeJ: number, afterJ: number) => (beforeJ > 0 ? (beforeJ - afterJ) / beforeJ : 0)

/**
 * Replays the logged demand with each changed supply. A saving is model(before) − model(after) on the
 * same trace, so model bias mostly cancels; its spread follows from the parameters' covariance.
 */
export function replayAll(
  ledger: Ledger,
  changes: readonly Replayable[],
  cycles: readonly Cycle[],
): Replayed[] {
  const sample = sampleOf(ledger.segmentation.steps, MOST_STEPS)
  const sharesUnder = (values: ParameterValues) => {
    const { supply, model } = supplyUnder(ledger, values, sample)
    const logged = energiesOf(supply, model)
    return Float64Array.from(changes, ({ change }) => {
      let afterJ = 0
      eachEnergy(change(supply, model), logged, model, (_, electricJ) => {
        afterJ += electricJ
      })
      return shareOf(logged.sumElectricJ, afterJ)
    })
  }
  const sensitivityOfShares = sensitivity(sharesUnder, ledger.values, ledger.covariance)
  const { supply, model } = supplyUnder(ledger)
  const logged = energiesOf(supply, model)
  const electricBeforeJ = logged.sumElectricJ
  const runningS = supply.reduce((sum, step) => sum + (step.motorOn ? step.durationS : 0), 0)
  const cycleOf = cycleOfSteps(supply, cycles)
  const cycleLengths = cycles.map((cycle) => cycle.endS - cycle.startS)
  const loggedInCycles = new Float64Array(cycles.length)
  logged.electricJ.forEach((energyJ, step) => {
    if (cycleOf[step] >= 0) loggedInCycles[cycleOf[step]] += energyJ
  })
  return changes.map(({ change, replayShareSd, replaySd }, k) => {
    const savedInCycles = loggedInCycles.slice()
    let afterJ = 0
    let shaftAfterJ = 0
    eachEnergy(change(supply, model), logged, model, ({ step }, electricJ, shaftJ) => {
      afterJ += electricJ
      shaftAfterJ += shaftJ
      if (cycleOf[step] >= 0) savedInCycles[cycleOf[step]] -= electricJ
    })
    const { below, above } = reachOfSum(sensitivityOfShares, new Map([[k, 1]]))
    const savedShare = shareOf(electricBeforeJ, afterJ)
    const grounds = {
      beforeJ: electricBeforeJ,
      afterJ,
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
      lessHeatW: runningS > 0 ? (logged.sumShaftJ - shaftAfterJ) / runningS : 0,
      grounds,
    }
  })
}
