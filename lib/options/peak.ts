import type { Site } from '@/lib/contract/site'
import { highestWindowMeanW } from '@/lib/economics/demand'
import { electricOfStepJ, type Ledger } from '@/lib/ledger/ledger'
import { readerOf } from '@/lib/samples/samples'
import { S_PER_MINUTE } from '@/lib/units'
import type { SupplyChange } from './change'
import { carriedOut, type Duty, dutyOfSupply, eachPiece } from './duty'
import { dutyUnder } from './points'
import { recordingOf } from './recording'

/** Highest mean input over a window of the demand charge as logged, and with a change, W. */
export interface Peaks {
  readonly beforeW: number
  readonly afterW: number
}

/** A duty, and what was logged in each step beyond what the models say of it, J. */
interface Rest {
  readonly duty: Duty
  readonly energyJ: Float64Array
}

/**
 * Tells the highest window means of a recording for any change, or null where the tariff charges no demand.
 * A step's input is spread evenly over it; with a change it is the logged input less what the models save in that
 * step, at the moment it was logged. Null where the recording covers no window.
 */
export function peaksOf(ledger: Ledger, site: Site): ((change: SupplyChange) => Peaks | null) | null {
  const demand = site.tariff?.demand
  if (!demand) return null
  const windowS = demand.windowMinutes * S_PER_MINUTE
  const { steps } = ledger.segmentation
  const { startedAtMs } = ledger.trace
  const timeS = readerOf(ledger.trace.timeS)
  const starts = steps.map((step) => timeS.at(step.from))
  const holds = steps.map((step) => step.durationS)
  const loggedJ = steps.map((_, k) => electricOfStepJ(ledger, k))
  const highest = (energyJ: ArrayLike<number>) =>
    highestWindowMeanW(
      {
        timeS: starts,
        holdS: holds,
        powerW: holds.map((holdS, k) => (holdS > 0 ? energyJ[k] / holdS : 0)),
        startedAtMs,
      },
      windowS,
    )
  const beforeW = highest(loggedJ)
  if (beforeW === null) return () => null
  const recording = recordingOf(ledger)
  // Many changes ask for the same duty: what it takes as it is, is taken off once.
  const known = new Map<string, Rest>()
  const restOf = ({ parts, agesS = [] }: SupplyChange): Rest => {
    const key = parts ? agesS.join() : 'steps'
    const before = known.get(key)
    if (before) return before
    const duty = parts ? dutyUnder(recording.pointsAt(agesS).all, recording) : dutyOfSupply(recording.supply)
    const energyJ = Float64Array.from(loggedJ)
    eachPiece(carriedOut(duty, null, recording.model), (step, electricJ) => {
      energyJ[step] -= electricJ
    })
    const rest = { duty, energyJ }
    known.set(key, rest)
    return rest
  }
  return (change) => {
    const { duty, energyJ } = restOf(change)
    const afterJ = energyJ.slice()
    eachPiece(carriedOut(duty, change, recording.model), (step, electricJ) => {
      afterJ[step] += electricJ
    })
    return { beforeW, afterW: highest(afterJ) ?? beforeW }
  }
}
