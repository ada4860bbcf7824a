import type { Analysis, Phase } from '@/lib/contract/result'
import { ratioSpread } from '@/lib/numeric/ratio-spread'
import { findCycles } from '@/lib/phases/cycles'
import { J_PER_KWH, S_PER_HOUR } from '@/lib/units'

/** What is known of one recording of the machine, without its samples. */
export interface SeenLog {
  readonly startedAtMs: number | null
  readonly phases: readonly Phase[]
  readonly ledgerByPhase: Analysis['ledgerByPhase']
}

export const UNIT_LEVELS = ['cycle', 'hour', 'day'] as const
export type UnitLevel = (typeof UNIT_LEVELS)[number]

/** How far one cycle, hour or day is from the mean rate of waste, and how long it runs. */
export interface Scatter {
  readonly level: UnitLevel
  /** Standard deviation of one unit's rate over the mean rate. */
  readonly shareSd: number
  /** Running time of a unit, s. */
  readonly runningS: number
  /** Units that were seen, nil where fewer than three: then `shareSd` is all assumed. */
  readonly seen: number
  /** Standard deviation of those alone; null with fewer than three. */
  readonly seenSd: number | null
  readonly assumedSd: number
}

/**
 * What few units show is little: long pauses come seldom and count much. So what is assumed keeps the weight of so many
 * degrees of freedom (common practice, no source; tests/lib/logging-plan/planned-length.test.ts shows what it gives).
 */
export const ASSUMED_DEGREES = 10

/** Common practice, no source: machines whose cycles, hours and days differ about as much as those of a job shop. */
const ASSUMED: Readonly<Record<UnitLevel, { shareSd: number; runningS: number }>> = {
  cycle: { shareSd: 0.4, runningS: 60 },
  hour: { shareSd: 0.2, runningS: S_PER_HOUR },
  day: { shareSd: 0.1, runningS: 8 * S_PER_HOUR },
}
/** Of a window of an hour at least so much must be running, or it tells of a pause. */
const LEAST_RUNNING_SHARE = 0.5

const isRunning = ({ kind }: Phase) => kind !== 'stopped' && kind !== 'starting'
const isIdle = (kind: string) => kind.startsWith('idle')

/** Mean waste at the meter by kind of phase, W: all input while idle, else the part of it over relief and to tank. */
export function wasteRatesW(byPhase: SeenLog['ledgerByPhase']): Record<string, number> {
  return Object.fromEntries(
    Object.entries(byPhase).map(([kind, of]) => {
      const hydraulic = of.overRelief.value + of.unloading.value + of.intoSystem.value
      const wasted = hydraulic > 0 ? (of.overRelief.value + of.unloading.value) / hydraulic : 0
      const kWh = isIdle(kind)
        ? of.electricIn.value
        : Math.max(0, wasted) * (of.electricIn.value - of.unaccounted.value)
      const isCounted = kind !== 'stopped' && kind !== 'starting' && of.hours > 0
      return [kind, isCounted ? (kWh * J_PER_KWH) / (of.hours * S_PER_HOUR) : 0]
    }),
  )
}

interface Unit {
  readonly wasteJ: number
  readonly runningS: number
}

/** Waste and running time of the phases within [fromS, toS), each phase at the mean rate of its kind. */
function within(log: SeenLog, ratesW: Readonly<Record<string, number>>, fromS: number, toS: number): Unit {
  let wasteJ = 0
  let runningS = 0
  for (const phase of log.phases) {
    const seconds = Math.min(phase.endS, toS) - Math.max(phase.startS, fromS)
    if (!(seconds > 0) || !isRunning(phase)) continue
    wasteJ += seconds * (ratesW[phase.kind] ?? 0)
    runningS += seconds
  }
  return { wasteJ, runningS }
}

const lastS = ({ phases }: SeenLog) => phases.at(-1)?.endS ?? 0

function unitsOf(level: UnitLevel, logs: readonly SeenLog[], dayOf: (epochMs: number) => string): Unit[] {
  const units: Unit[] = []
  const days = new Map<string, { wasteJ: number; runningS: number }>()
  logs.forEach((log, k) => {
    const rates = wasteRatesW(log.ledgerByPhase)
    if (level === 'cycle') {
      for (const { startS, endS } of findCycles(log.phases)) units.push(within(log, rates, startS, endS))
    } else if (level === 'hour') {
      for (let s = 0; s + S_PER_HOUR <= lastS(log); s += S_PER_HOUR) {
        units.push(within(log, rates, s, s + S_PER_HOUR))
      }
    } else {
      // A recording belongs to the day it begins on; one without a date is a day of its own.
      const key = log.startedAtMs === null ? `undated ${k}` : dayOf(log.startedAtMs)
      const all = within(log, rates, 0, lastS(log))
      const before = days.get(key) ?? { wasteJ: 0, runningS: 0 }
      days.set(key, {
        wasteJ: before.wasteJ + all.wasteJ,
        runningS: before.runningS + all.runningS,
      })
    }
  })
  const least = level === 'hour' ? LEAST_RUNNING_SHARE * S_PER_HOUR : 0
  return [...units, ...days.values()].filter(({ runningS }) => runningS > least)
}

/**
 * Scatter between cycles, hours and days. Rates are waste over running time, so that a long unit counts more than a
 * short one (ratio estimator). The variance seen and the one assumed are weighed by their degrees of freedom; of a level
 * with fewer than three units all is assumed.
 * @param dayOf local day at the site of an instant
 */
export function scatterOf(logs: readonly SeenLog[], dayOf: (epochMs: number) => string): Scatter[] {
  return UNIT_LEVELS.map((level): Scatter => {
    const units = unitsOf(level, logs, dayOf)
    const spread = ratioSpread(
      units.map(({ wasteJ }) => wasteJ),
      units.map(({ runningS }) => runningS),
    )
    const seen = units.length
    const assumed = { level, ...ASSUMED[level], assumedSd: ASSUMED[level].shareSd }
    if (spread === null) return { ...assumed, seen: 0, seenSd: null }
    // The spread is that of the mean over all units; one unit's is √n times as large.
    const seenSd = spread * Math.sqrt(seen)
    const degrees = seen - 1
    const variance =
      (degrees * seenSd ** 2 + ASSUMED_DEGREES * assumed.assumedSd ** 2) / (degrees + ASSUMED_DEGREES)
    const runningS = units.reduce((sum, unit) => sum + unit.runningS, 0) / seen
    return { ...assumed, shareSd: Math.sqrt(variance), runningS, seen, seenSd }
  })
}
