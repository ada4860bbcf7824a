import { unitsNeeded } from './sample-size'
import type { Scatter, UnitLevel } from './scatter'

/** Half-widths that a user may want of the yearly waste, as shares of it. */
export const WANTED_SHARES = [0.03, 0.05, 0.1, 0.15, 0.2, 0.3] as const

/** What no length of logging removes, as 95 % half-widths over the waste. */
export interface Fixed {
  /** Sensors and models; null where they tell no waste at all. */
  readonly sensors: number | null
  /** How far the year's hours may be from the planned ones. */
  readonly hours: number
}

export interface LevelNeeded {
  readonly level: UnitLevel
  /** Units of that level; null where no reasonable number would do. */
  readonly units: number | null
  readonly runningS: number | null
}

/** How much must be logged for one wanted half-width. */
export interface Length {
  readonly wanted: number
  /** What is left for the scatter, 95 %; null where sensors and hours alone are wider than wanted. */
  readonly room: number | null
  readonly levels: readonly LevelNeeded[]
  /** Running time, s: what cycles or hours ask for, whichever is more; null where the wanted cannot be had. */
  readonly runningS: number | null
  readonly days: number | null
}

/** Half-width that stays however long one logs. */
export const leastHalf = ({ sensors, hours }: Fixed) => (sensors === null ? null : Math.hypot(sensors, hours))

/**
 * Length for a wanted half-width W: scatter may take √(W² − S² − H²), for sensors S and hours H neither shrink with time.
 * Units at each level are asked to bring the mean within that by themselves; the longest counts, since cycles of one
 * hour and hours of one day are more alike than those of others.
 */
export function lengthFor(wanted: number, fixed: Fixed, scatters: readonly Scatter[]): Length {
  const least = leastHalf(fixed)
  const room = least !== null && wanted > least ? Math.sqrt(wanted ** 2 - least ** 2) : null
  const levels = scatters.map(({ level, shareSd, runningS }): LevelNeeded => {
    const units = room === null ? null : unitsNeeded(shareSd, room)
    return { level, units, runningS: units === null ? null : units * runningS }
  })
  const of = (level: UnitLevel) => levels.find((one) => one.level === level)
  const times = [of('cycle')?.runningS, of('hour')?.runningS]
  const isKnown = times.every((time) => typeof time === 'number')
  return {
    wanted,
    room,
    levels,
    runningS: isKnown ? Math.max(...times.map((time) => time ?? 0)) : null,
    days: of('day')?.units ?? null,
  }
}
