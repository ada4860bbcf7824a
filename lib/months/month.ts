import { PHASE_CLASSES, type PhaseClass } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { S_PER_HOUR } from '@/lib/units'
import {
  type Amount,
  classOf,
  electricOf,
  type PhaseTotals,
  WASTE_KINDS,
  type WasteKind,
  wasteOf,
} from './waste'

const MONTHS_PER_YEAR = 12
/** Below a tenth of the planned hours the logs stand on thin ground (common practice, no source). */
const THIN_COVERAGE_SHARE = 0.1

/** Hours and energy of a month, or of a part of it. */
export interface MonthPart {
  /** Idle and working hours: what the site's planned hours count. */
  readonly runningHours: number
  readonly hours: Readonly<Record<PhaseClass, number>>
  readonly electric: Amount
  readonly electricByClass: Readonly<Record<PhaseClass, Amount>>
  /** Null where the fitted sensors could not separate it. */
  readonly waste: Readonly<Record<WasteKind, Amount | null>>
}

/** One machine's month: what was measured, and what that says of the planned hours nobody logged. */
export interface MachineMonth {
  readonly plannedHours: number
  readonly measured: MonthPart
  /** The unlogged planned hours at the measured rates; null where no running hour was logged. */
  readonly scaled: MonthPart | null
  /** Measured and scaled together; null as `scaled`. */
  readonly whole: MonthPart | null
  /** Measured running hours over planned hours; above 1 where more was logged than planned. */
  readonly coverageShare: number
  readonly thinCoverage: boolean
}

/**
 * Combines what many logs of one machine add to one month, or null without any row. Logs that overlap
 * in time count twice: the caller keeps them apart.
 */
export function machineMonth(rows: readonly PhaseTotals[], site: Site): MachineMonth | null {
  if (rows.length === 0) return null
  const plannedHours = site.plannedHoursPerYear / MONTHS_PER_YEAR
  const measured = partOf(rows, site.emissionKgPerKWh)
  const coverageShare = measured.runningHours / plannedHours
  // Starts come with the running hours and are scaled along; standstill says nothing of them.
  const turning = rows.filter((row) => row.phaseKind !== 'stopped')
  const unlogged = Math.max(0, 1 / coverageShare - 1)
  const known = measured.runningHours > 0
  const scaled = known ? partOf(turning.map(times(unlogged)), site.emissionKgPerKWh) : null
  return {
    plannedHours,
    measured,
    scaled,
    whole: known ? partOf([...rows, ...turning.map(times(unlogged))], site.emissionKgPerKWh) : null,
    coverageShare,
    thinCoverage: coverageShare < THIN_COVERAGE_SHARE,
  }
}

function partOf(rows: readonly PhaseTotals[], emissionKgPerKWh: number): MonthPart {
  const ofClass = (name: PhaseClass) => rows.filter((row) => classOf(row) === name)
  return {
    runningHours: hoursOf(rows.filter((row) => classOf(row) !== 'off')),
    hours: byName(PHASE_CLASSES, (name) => hoursOf(ofClass(name))),
    electric: electricOf(rows, emissionKgPerKWh),
    electricByClass: byName(PHASE_CLASSES, (name) => electricOf(ofClass(name), emissionKgPerKWh)),
    waste: byName(WASTE_KINDS, (kind) => wasteOf(kind, rows, emissionKgPerKWh)),
  }
}

function hoursOf(rows: readonly PhaseTotals[]): number {
  return rows.reduce((sum, row) => sum + row.seconds, 0) / S_PER_HOUR
}

function byName<Name extends string, Value>(
  names: readonly Name[],
  value: (name: Name) => Value,
): Record<Name, Value> {
  return Object.fromEntries(names.map((name) => [name, value(name)])) as Record<Name, Value>
}

function times(factor: number): (row: PhaseTotals) => PhaseTotals {
  return (row) => ({
    phaseKind: row.phaseKind,
    seconds: row.seconds * factor,
    electricJ: row.electricJ * factor,
    motorLossJ: row.motorLossJ * factor,
    pumpLossJ: row.pumpLossJ * factor,
    overReliefJ: row.overReliefJ * factor,
    unloadingJ: row.unloadingJ * factor,
    intoSystemJ: row.intoSystemJ * factor,
    meteringJ: row.meteringJ === null ? null : row.meteringJ * factor,
    workJ: row.workJ === null ? null : row.workJ * factor,
    unaccountedJ: row.unaccountedJ * factor,
    cost: row.cost * factor,
  })
}
