import { motorsOf } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import { startLimits } from '@/lib/machine/starts-per-hour'
import { S_PER_HOUR } from '@/lib/units'
import { runsOf } from '../demand'
import { note, type Option, refused } from '../option'
import { type SupplyChange, type SupplyStep, splitStep } from '../supply'

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

interface Idle {
  readonly first: number
  readonly last: number
  readonly startS: number
  readonly durationS: number
}

function idlesOf(supply: readonly SupplyStep[]): Idle[] {
  return runsOf(supply, (step) => step.kind.startsWith('idle')).map(([first, last]) => ({
    first,
    last,
    startS: supply[first].startS,
    durationS: supply[last].startS + supply[last].durationS - supply[first].startS,
  }))
}

/** After the waiting time the motor stands until the idle ends, and starts again for the work. */
function stopAfter(waitS: number): SupplyChange {
  return (supply, model) => {
    const replaced = new Map<number, SupplyStep[]>()
    for (const idle of idlesOf(supply)) {
      if (idle.durationS <= waitS) continue
      let leftS = waitS
      for (let i = idle.first; i <= idle.last; i++) {
        const [running, standing] = splitStep(supply[i], leftS)
        leftS -= running.durationS
        const extraJ = i === idle.last ? RESTART_RATED_S * model.motor.ratedInputW : 0
        replaced.set(i, [running, { ...standing, motorOn: false, extraJ }])
      }
    }
    return supply.flatMap((step, i) => replaced.get(i) ?? [step])
  }
}

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
function strictestLimits(machine: Machine): ReturnType<typeof startLimits> {
  const limits = motorsOf(machine).map(({ plate }) => startLimits(plate))
  return {
    startsPerHour: Math.min(...limits.map(({ startsPerHour }) => startsPerHour)),
    restS: Math.max(...limits.map(({ restS }) => restS)),
  }
}

/** The motor stops in long idles after a waiting time, within the starts and rests its size allows. */
export const stopMotorAtIdle: Option = {
  id: 'stop-motor-at-idle',
  plan({ machine, supply }) {
    const limits = strictestLimits(machine)
    const idles = idlesOf(supply)
    const loggedS = supply.reduce((sum, step) => sum + step.durationS, 0)
    const settings = { waitS: null, startsPerHour: limits.startsPerHour, restS: limits.restS }
    if (idles.length === 0) return refused([note('no-idle-time')], settings, CAUTIONS)
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
    // The shortest wait that is allowed saves most: every stop is longer, and a stop with its rest outweighs its restart.
    let best: number | null = null
    let blocked: 'idles-too-short' | 'rest-too-short' | 'too-many-starts' = 'idles-too-short'
    for (const waitS of [...new Set(candidates)].sort((a, b) => a - b)) {
      const stops = idles.filter((idle) => idle.durationS > waitS)
      if (stops.length === 0) continue
      if (stops.some((idle) => idle.durationS - waitS < limits.restS)) {
        if (blocked === 'idles-too-short') blocked = 'rest-too-short'
        continue
      }
      if (
        startsPerHour(
          stops.map((idle) => idle.startS + idle.durationS),
          loggedS,
        ) > limits.startsPerHour
      ) {
        blocked = 'too-many-starts'
        continue
      }
      best = waitS
      break
    }
    if (best === null) {
      return refused(
        [note(blocked, { startsPerHour: limits.startsPerHour, restS: limits.restS })],
        settings,
        CAUTIONS,
      )
    }
    return {
      judged: true,
      reasons: [],
      settings: { ...settings, waitS: best },
      change: stopAfter(best),
      cycleTimeChangeShare: 0,
      cautions: CAUTIONS,
    }
  },
}
