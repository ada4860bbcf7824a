import type { Site } from '@/lib/contract/site'
import { highestWindowMeanW } from '@/lib/economics/demand'
import { electricOfStepJ, type Ledger } from '@/lib/ledger/ledger'
import { S_PER_MINUTE } from '@/lib/units'
import type { SupplyChange } from './change'
import { carriedOut, dutyOfSupply, eachPiece } from './duty'
import { dutyUnder } from './points'
import { recordingOf } from './recording'

/** Highest mean input over a window of the demand charge as logged, and with a change, W. */
export interface Peaks {
  readonly beforeW: number
  readonly afterW: number
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
  const { startedAtMs, timeS } = ledger.trace
  const starts = steps.map((step) => timeS[step.from])
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
  return (change) => {
    const duty = change.parts
      ? dutyUnder(recording.pointsAt(change.agesS ?? []).all, recording)
      : dutyOfSupply(recording.supply)
    const afterJ = Float64Array.from(loggedJ)
    const addTo = (sign: number) => (step: number, energyJ: number) => {
      afterJ[step] += sign * energyJ
    }
    eachPiece(carriedOut(duty, null, recording.model), addTo(-1))
    eachPiece(carriedOut(duty, change, recording.model), addTo(1))
    return { beforeW, afterW: highest(afterJ) ?? beforeW }
  }
}
