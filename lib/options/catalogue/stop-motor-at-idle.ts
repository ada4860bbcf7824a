import { motorsOf } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import { startLimits } from '@/lib/machine/starts-per-hour'
import { S_PER_HOUR } from '@/lib/units'
import { eachStep } from '../change'
import { note, type Option, type OptionContext, refused } from '../option'
import { isAsOldAs, isIdle } from '../order'
import { refusedSetting, shownOf } from '../settings'
import { type SupplyStep, supplyElectricW, supplyShaftW } from '../supply'

/** A run-up takes this long at rated input in energy (common practice, no source). */
const RESTART_RATED_S = 1.5
/** A waiting time is never shorter: the machine may be about to move. */
const LEAST_WAIT_S = 30
/** Room kept beyond the least rest when a waiting time is chosen, s. */
const WAIT_MARGIN_S = 1

const CAUTIONS = [
  note('motor-starts-limit'),
  note('raised-load-unsupported'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

type StartLimits = ReturnType<typeof startLimits>

interface Idle {
  readonly startS: number
  readonly durationS: number
}

const idlesOf = (supply: readonly SupplyStep[]): Idle[] =>
  supply
    .filter(({ order }) => order.idleEnds > 0)
    .map(({ order, startS }) => ({ startS: startS - order.idleAgeS, durationS: order.idleS }))

/** After the waiting time the motor stands until the idle ends, and starts again for the work. */
const stopAfter = (waitS: number) =>
  eachStep(
    ({ motor }) =>
      (step) => {
        const { idleS, idleAgeS, idleEnds } = step.order
        if (!(idleS > waitS) || !isAsOldAs(idleAgeS, waitS)) return
        step.motorOn = false
        step.extraJ = idleEnds * RESTART_RATED_S * motor.ratedInputW
      },
    [waitS],
  )

/** Most starts within any hour; a log shorter than an hour is taken to go on as it is. */
function startsPerHour(restartsS: readonly number[], loggedS: number): number {
  const windowS = Math.min(S_PER_HOUR, loggedS)
  let most = 0
  let low = 0
  restartsS.forEach((time, high) => {
    while (time - restartsS[low] >= windowS) low++
    most = Math.max(most, high - low + 1)
  })
  return (most * S_PER_HOUR) / windowS
}

/** All motors stop and start together: the one that may do so least often decides. */
function strictestLimits(machine: Machine): StartLimits {
  const limits = motorsOf(machine).map(({ plate }) => startLimits(plate))
  return {
    startsPerHour: Math.min(...limits.map(({ startsPerHour }) => startsPerHour)),
    restS: Math.max(...limits.map(({ restS }) => restS)),
  }
}

type Blocked = 'idles-too-short' | 'rest-too-short' | 'too-many-starts'

/** Why the motor must not stop after a waiting time; null where it may. */
function blockedAt(
  waitS: number,
  idles: readonly Idle[],
  loggedS: number,
  limits: StartLimits,
): Blocked | null {
  const stops = idles.filter((idle) => idle.durationS > waitS)
  if (stops.length === 0) return 'idles-too-short'
  if (stops.some((idle) => idle.durationS - waitS < limits.restS)) return 'rest-too-short'
  const restartsS = stops.map((idle) => idle.startS + idle.durationS)
  return startsPerHour(restartsS, loggedS) > limits.startsPerHour ? 'too-many-starts' : null
}

/** Energy saved after any waiting time, J: each is a sum over the idle steps, as `stopAfter` would have them. */
function savedAfter({ supply, model }: Pick<OptionContext, 'supply' | 'model'>): (waitS: number) => number {
  const restartJ = RESTART_RATED_S * model.motor.ratedInputW
  // Columns, for every waiting time looks at all of them.
  const idle = supply.filter(isIdle)
  const durationS = Float64Array.from(idle, (step) => step.durationS)
  const idleS = Float64Array.from(idle, ({ order }) => order.idleS)
  const ageS = Float64Array.from(idle, ({ order }) => order.idleAgeS)
  const ends = Float64Array.from(idle, ({ order }) => order.idleEnds)
  const inputW = Float64Array.from(idle, (step) => supplyElectricW(step, model, supplyShaftW(step, model)))
  return (waitS) => {
    let sum = 0
    for (let k = 0; k < idleS.length; k++) {
      if (!(idleS[k] > waitS)) continue
      const standingS = durationS[k] - Math.min(durationS[k], Math.max(0, waitS - ageS[k]))
      sum += standingS * inputW[k] - ends[k] * restartJ
    }
    return sum
  }
}

/** The motor stops in long idles after a waiting time, within the starts and rests its size allows. */
export const stopMotorAtIdle: Option = {
  id: 'stop-motor-at-idle',
  plan({ machine, supply, model, duty }, given = {}) {
    const limits = strictestLimits(machine)
    const idles = idlesOf(supply)
    const loggedS = supply.reduce((sum, step) => sum + step.durationS, 0)
    const settings = { waitS: given.waitS ?? null, startsPerHour: limits.startsPerHour, restS: limits.restS }
    if (idles.length === 0) return refused([note('no-idle-time')], settings, CAUTIONS)
    const longestS = idles.reduce((most, idle) => Math.max(most, idle.durationS), LEAST_WAIT_S)
    const wrong = refusedSetting(given, { waitS: [LEAST_WAIT_S, longestS] })
    if (wrong) return refused([wrong], settings, CAUTIONS)
    // Just beyond an idle's length, or so that an idle still leaves the least rest: nothing changes between.
    const candidates = [
      LEAST_WAIT_S,
      ...idles.flatMap((idle) => [
        idle.durationS + WAIT_MARGIN_S,
        idle.durationS - limits.restS - WAIT_MARGIN_S,
      ]),
    ]
      .map(Math.ceil)
      .filter((wait) => wait >= LEAST_WAIT_S)
    const waits = [...new Set(candidates)].sort((a, b) => a - b)
    // The shortest wait that is allowed saves most: every stop is longer, and a stop with its rest outweighs its restart.
    let best: number | null = null
    let blocked: Blocked = 'idles-too-short'
    for (const waitS of given.waitS === undefined ? waits : [given.waitS]) {
      const why = blockedAt(waitS, idles, loggedS, limits)
      if (!why) {
        best = waitS
        break
      }
      if (why === 'too-many-starts' || (why === 'rest-too-short' && blocked === 'idles-too-short'))
        blocked = why
    }
    const savedJ = savedAfter({ supply, model })
    const searched = shownOf(waits, best).map((waitS) => ({
      setting: 'waitS',
      value: waitS,
      savedShare: duty.electricJ > 0 ? savedJ(waitS) / duty.electricJ : 0,
      feasible: blockedAt(waitS, idles, loggedS, limits) === null,
    }))
    if (best === null) {
      const why = note(blocked, { startsPerHour: limits.startsPerHour, restS: limits.restS })
      return { ...refused([why], settings, CAUTIONS), searched }
    }
    return {
      judged: true,
      reasons: [],
      settings: { ...settings, waitS: best },
      change: stopAfter(best),
      cycleTimeChangeShare: 0,
      searched,
      cautions: CAUTIONS,
    }
  },
}
