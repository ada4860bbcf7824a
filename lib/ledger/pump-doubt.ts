import { Matrix } from 'ml-matrix'
import type { MachineModel } from '@/lib/machine/machine-model'
import { tellPumpStates } from '@/lib/phases/pump-states'
import type { Step } from '@/lib/phases/stretch'
import { meansWith, stepOf } from '@/lib/phases/stretch-columns'
import type { Sensors } from '@/lib/samples/sensors'
import { LIMIT_TO_SD } from './parameters'
import { TOTALS_LENGTH } from './totals'

/** A step of which it is not known which unloading pumps fed the line. */
export interface DoubtedStep {
  readonly step: Step
  /** The state (pump.ts, PumpLatch) that is as possible as the one taken. */
  readonly other: number
  /** Its readings lie between those of two states: the pumps changed over to and fro. */
  readonly isMixed: boolean
}

/** A state is settled where any other has less than this chance. */
const DOUBT_CHANCE = 0.05

/** Steps whose unloading pumps may as well have been in another state, or changed over to and fro. */
export function doubtedSteps(
  steps: readonly Step[],
  sensors: Sensors,
  model: MachineModel,
): readonly DoubtedStep[] {
  const told = tellPumpStates(steps, sensors, model)
  if (told === null) return []
  const { chance, states, mixed } = told
  return steps.flatMap((step, k) => {
    if (step.kind === 'stopped' || step.kind === 'starting') return []
    const { pumpState } = step.means
    let other = -1
    for (let state = 0; state < states; state++) {
      if (state === pumpState) continue
      if (other < 0 || chance[k * states + state] > chance[k * states + other]) other = state
    }
    const isMixed = mixed[k] === 1
    return isMixed || chance[k * states + other] > DOUBT_CHANCE ? [{ step, other, isMixed }] : []
  })
}

/** Steps of about this share of the relief's setting in pressure are in one state together, in whichever it is. */
const BAND_SHARE = 0.05

/**
 * Covariance of the totals that comes from steps with another state as possible: at one pressure all of them are in one
 * state, so what that moves adds up, and either is within the 95 % interval. Null where every state is settled.
 * @param totals the totals of the given steps put together
 */
export function pumpCovariance(
  doubted: readonly DoubtedStep[],
  { relief }: MachineModel,
  totals: (steps: readonly Step[]) => Float64Array,
): Matrix | null {
  if (doubted.length === 0) return null
  const bands = new Map<string, DoubtedStep[]>()
  for (const one of doubted) {
    const { kind, means } = one.step
    const band = Math.round(means.pumpPressurePa / (BAND_SHARE * relief.settingPa))
    const key = `${kind} ${band} ${means.pumpState} ${one.other}`
    const alike = bands.get(key)
    if (alike) alike.push(one)
    else bands.set(key, [one])
  }
  const covariance = Matrix.zeros(TOTALS_LENGTH, TOTALS_LENGTH)
  for (const alike of bands.values()) {
    const taken = totals(alike.map(({ step }) => step))
    const other = totals(alike.map(inOtherState))
    const moves = Matrix.columnVector(
      Array.from(other, (valueJ, k) => {
        const move = (valueJ - taken[k]) * LIMIT_TO_SD
        return Number.isNaN(move) ? 0 : move
      }),
    )
    covariance.add(moves.mmul(moves.transpose()))
  }
  return covariance
}

const inOtherState = ({ step, other }: DoubtedStep): Step =>
  stepOf(step, step.kind, meansWith(step.means, { pumpState: other }))

/** The steps that are no doubted ones: what valve and pump are fitted to. */
export const settledSteps = (steps: readonly Step[], doubted: readonly DoubtedStep[]): readonly Step[] => {
  if (doubted.length === 0) return steps
  const left = new Set(doubted.map(({ step }) => step))
  return steps.filter((step) => !left.has(step))
}
