import { Matrix, solve } from 'ml-matrix'
import { allFeeding, fullFlowM3S, inPumpState, type MachineModel } from '@/lib/machine/machine-model'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { isLevel } from './flow-share'
import type { Stretch } from './stretch'

/** Flow into the system at one level of pressure, as shares of what is rated. */
interface Point {
  readonly pressure: number
  readonly flow: number
}

/** Levels nearer than this share of the dead-head pressure are one point. */
const LEVEL_SHARE = 0.02
/** A point of median readings misses the truth by about this share of rated flow (common practice, no source). */
const MISFIT_SHARE = 0.01
/** How far a pump's displacement and its leakage lie from the plate's (1 sd); a badly worn pump's leakage is left to the rival reading. */
const DISPLACEMENT_SD = 0.02
const SOUND_LEAKAGE_SD = 0.5
const WORN_LEAKAGE = 3
const WORN_LEAKAGE_SD = 0.4
const TIRED_LEAKAGE = 2
/** A relief is looked for that opens between these shares of the dead-head pressure. */
const LOWEST_SHARE = 0.4
const STEP_SHARE = 0.005
/** How much better the valve must explain the flow than the pump does (difference of squared misfits; 4 is about 95 %). */
const BETTER_BY = 4
/** Openings whose squared misfits differ by no more than this explain the flow about as well. */
const AS_WELL = 1
/** A stretch with less than this share of full flow may be a hold. */
const LEAST_FLOW_SHARE = 0.1

function pointsOf(stretches: readonly Stretch[], model: MachineModel, deadHeadPa: number): Point[] {
  const levels = new Map<number, Stretch[]>()
  const whole = allFeeding(model)
  // With some pumps unloaded, what the others give stands for what all would: no valve opened.
  const wholeOver = ({ means: { pumpPressurePa, pumpState } }: Stretch) =>
    Number.isNaN(pumpState)
      ? 1
      : fullFlowM3S(whole, pumpPressurePa) / fullFlowM3S(inPumpState(model, pumpState), pumpPressurePa)
  for (const stretch of stretches) {
    const { pumpPressurePa, systemFlowM3S } = stretch.means
    if (!isLevel(stretch) || pumpPressurePa > (1 - LEVEL_SHARE) * deadHeadPa) continue
    if (!(systemFlowM3S > LEAST_FLOW_SHARE * model.pump.ratedFlowM3S)) continue
    const key = Math.round(pumpPressurePa / (LEVEL_SHARE * deadHeadPa))
    const level = levels.get(key)
    if (level) level.push(stretch)
    else levels.set(key, [stretch])
  }
  return [...levels.values()].map((level) => {
    const weights = level.map(({ durationS }) => durationS)
    const median = (of: (stretch: Stretch) => number) => weightedQuantile(level.map(of), weights, 0.5)
    return {
      pressure: median(({ means }) => means.pumpPressurePa) / deadHeadPa,
      flow: median((stretch) => stretch.means.systemFlowM3S * wholeOver(stretch)) / model.pump.ratedFlowM3S,
    }
  })
}

interface Pump {
  /** Flow without leakage, and leakage at the dead-head pressure, shares of rated flow. */
  readonly flow: number
  readonly leakage: number
}

/**
 * Least squares for flow = a·(1 − lift) − L·(pressure − lift), lift rising from nil at `opens` to 1 at the
 * dead-head pressure, where all of the pump's flow passes the valve. Returns the squared misfit with that of
 * the priors, and the leakage.
 */
function misfitOf(points: readonly Point[], opens: number, plate: Pump, leakage: number, leakageSd: number) {
  const information = new Matrix([
    [1 / DISPLACEMENT_SD ** 2, 0],
    [0, 1 / leakageSd ** 2],
  ])
  const right = new Matrix([[plate.flow / DISPLACEMENT_SD ** 2], [leakage / leakageSd ** 2]])
  const rows = points.map(({ pressure }) => {
    const lift = Math.max(0, (pressure - opens) / (1 - opens))
    return [1 - lift, lift - pressure]
  })
  points.forEach(({ flow }, k) => {
    for (let a = 0; a < 2; a++) {
      right.set(a, 0, right.get(a, 0) + (rows[k][a] * flow) / MISFIT_SHARE ** 2)
      for (let b = 0; b < 2; b++) {
        information.set(a, b, information.get(a, b) + (rows[k][a] * rows[k][b]) / MISFIT_SHARE ** 2)
      }
    }
  })
  const solved = solve(information, right)
  const [a, l] = [solved.get(0, 0), solved.get(1, 0)]
  const priors = ((a - plate.flow) / DISPLACEMENT_SD) ** 2 + ((l - leakage) / leakageSd) ** 2
  return points.reduce(
    (sum, { flow }, k) => sum + ((flow - a * rows[k][0] - l * rows[k][1]) / MISFIT_SHARE) ** 2,
    priors,
  )
}

/** What is known before: a pump as its plate says, and leakage as a share of the dead-headed flow. */
function plateOf(model: MachineModel, deadHeadPa: number): Pump {
  const rated = model.pump.ratedFlowM3S
  const whole = allFeeding(model)
  const leakage = whole.pump.leakageM3S(deadHeadPa) / rated
  return { flow: (fullFlowM3S(whole, deadHeadPa) + leakage * rated) / rated, leakage }
}

/**
 * Opening below `sound`, or null where the pump explains the flow as well: a worn pump loses in proportion to
 * pressure; a relief loses nothing up to its cracking pressure.
 */
function earlyShare(points: readonly Point[], plate: Pump, sound: number): number | null {
  const closed = points.filter(({ pressure }) => pressure < sound)
  const { leakage } = plate
  const soundPump = (opens: number) => misfitOf(closed, opens, plate, leakage, SOUND_LEAKAGE_SD * leakage)
  const byPump = Math.min(
    soundPump(1 - STEP_SHARE),
    misfitOf(closed, 1 - STEP_SHARE, plate, WORN_LEAKAGE * leakage, WORN_LEAKAGE_SD * leakage),
  )
  let opens = Number.NaN
  let byValve = Number.POSITIVE_INFINITY
  for (let at = LOWEST_SHARE; at < sound; at += STEP_SHARE) {
    const misfit = soundPump(at)
    if (misfit < byValve) {
      byValve = misfit
      opens = at
    }
  }
  return byValve + BETTER_BY < byPump && closed.some(({ pressure }) => pressure > opens) ? opens : null
}

/**
 * Opening above `sound`, or null where nothing says so: the least pressure that explains the flow at all levels about as
 * well as the best one, whatever the pump leaks. Levels at which oil is metered lie on the relief's line too.
 */
function lateShare(points: readonly Point[], plate: Pump, sound: number): number | null {
  if (points.filter(({ pressure }) => pressure >= sound).length < 2) return null
  const { leakage } = plate
  const tries: { at: number; misfit: number }[] = []
  for (let at = sound; at < 1 - STEP_SHARE; at += STEP_SHARE) {
    const misfits = [1, TIRED_LEAKAGE, WORN_LEAKAGE].map((times) =>
      misfitOf(points, at, plate, times * leakage, SOUND_LEAKAGE_SD * leakage),
    )
    tries.push({ at, misfit: Math.min(...misfits) })
  }
  const best = Math.min(...tries.map(({ misfit }) => misfit))
  if (best > BETTER_BY * points.length) return null
  const least = tries.find(({ misfit }) => misfit <= best + AS_WELL)
  return least && least.at > sound ? least.at + STEP_SHARE : null
}

/**
 * Pressure at which a relief begins to open, found with one meter in the system line; null where the log does not
 * tell it from `soundPa`, where valves of its kind may open. With a fixed pump the flow that is missing at a
 * pressure is the same whatever the load takes: the pump's leakage in proportion to pressure, and from the cracking
 * pressure on a straight line up to all at the dead-head pressure.
 */
export function openingPa(
  stretches: readonly Stretch[],
  model: MachineModel,
  deadHeadPa: number,
  soundPa: number,
): number | null {
  if (!model.isFixed) return null
  const points = pointsOf(stretches, model, deadHeadPa)
  if (points.length === 0) return null
  const plate = plateOf(model, deadHeadPa)
  const sound = soundPa / deadHeadPa
  const opens = earlyShare(points, plate, sound) ?? lateShare(points, plate, sound)
  return opens === null ? null : opens * deadHeadPa
}
