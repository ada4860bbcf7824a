import type { PhaseClass } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { rememberedBySite } from '@/lib/economics/by-site'
import { daysOfMonth } from '@/lib/economics/local-time'
import { type NamedMachine, plannedHoursOf } from '@/lib/economics/planned-time'
import { emissionOn } from '@/lib/economics/tariff-version'
import { S_PER_HOUR } from '@/lib/units'
import { figureIndex } from './figures'
import {
  classAt,
  costAt,
  hasKind,
  heatAt,
  KIND_COUNT,
  type KindTable,
  kWhAt,
  STOPPED,
  secondsAt,
  unloggedFactor,
} from './kind-table'
import type { Amount, WasteKind } from './waste'

const [ELECTRIC, IDLE, OVER_RELIEF, UNLOADING, METERING] = (
  ['electric', 'idle', 'overRelief', 'unloading', 'metering'] as const
).map(figureIndex)

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
  /** Left in the oil as heat, kWh; without metering where that is not separable. */
  readonly heatKWh: number
}

/** One machine's month: what was measured, and what that says of the planned hours nobody logged. */
export interface MachineMonth {
  readonly plannedHours: number
  readonly measured: MonthPart
  /** The unlogged planned hours at the measured rates; null where no running hour was logged. */
  readonly scaled: MonthPart | null
  /** Measured and scaled together; null as `scaled`. */
  readonly whole: MonthPart | null
  /** Measured running hours over planned hours; 1 or nil where none are planned, above 1 where more was logged than planned. */
  readonly coverageShare: number
  readonly thinCoverage: boolean
}

/** What a month is held against. */
export interface MonthBasis {
  readonly plannedHours: number
  /** Mean over the days of the month. */
  readonly emissionKgPerKWh: number
}

/** Planned hours and emission factor of a machine's month at the site. */
export function monthBasis(month: string, machine: NamedMachine, site: Site): MonthBasis {
  return {
    plannedHours: plannedHoursOf(month, machine, site),
    emissionKgPerKWh: emissionOfMonth(month, site),
  }
}

const emissions = rememberedBySite<number>()

/** A factor that changes within the month counts by days. */
export function emissionOfMonth(month: string, site: Site): number {
  return emissions(site, month, () => {
    const days = daysOfMonth(month)
    return days.reduce((sum, { date }) => sum + emissionOn(date, site), 0) / days.length
  })
}

/** Reads a machine's month at what was planned. */
export function machineMonth(table: KindTable, basis: MonthBasis): MachineMonth {
  const { plannedHours, emissionKgPerKWh } = basis
  const measured = partOf(table, 1, 1, emissionKgPerKWh)
  const hours = measured.runningHours
  const coverageShare = plannedHours > 0 ? hours / plannedHours : hours > 0 ? 1 : 0
  const known = hours > 0
  const factor = unloggedFactor(table, plannedHours)
  return {
    plannedHours,
    measured,
    // Starts come with the running hours and are scaled along; standstill says nothing of them.
    scaled: known ? partOf(table, factor, 0, emissionKgPerKWh) : null,
    whole: known ? partOf(table, 1 + factor, 1, emissionKgPerKWh) : null,
    coverageShare,
    thinCoverage: coverageShare < THIN_COVERAGE_SHARE,
  }
}

const amount = (kWh: number, cost: number, kgPerKWh: number): Amount => ({ kWh, cost, kgCO2: kWh * kgPerKWh })

/** A figure over all kinds of phase; null where some of it could not be separated. */
function wasteOf(
  table: KindTable,
  figure: number,
  turning: number,
  stopped: number,
  kgPerKWh: number,
): Amount | null {
  let kWh = 0
  let cost = 0
  for (let kind = 0; kind < KIND_COUNT; kind++) {
    if (!hasKind(table, kind)) continue
    const factor = kind === STOPPED ? stopped : turning
    kWh += factor * kWhAt(table, kind, figure)
    cost += factor * costAt(table, kind, figure)
  }
  return Number.isNaN(kWh) || Number.isNaN(cost) ? null : amount(kWh, cost, kgPerKWh)
}

/** The month's sums, standstill times one factor and all else times another. */
function partOf(table: KindTable, turning: number, stopped: number, kgPerKWh: number): MonthPart {
  const hours = { off: 0, idle: 0, work: 0 }
  const kWhOf = { off: 0, idle: 0, work: 0 }
  const costOf = { off: 0, idle: 0, work: 0 }
  let heatKWh = 0
  for (let kind = 0; kind < KIND_COUNT; kind++) {
    if (!hasKind(table, kind)) continue
    const name = classAt(kind)
    const factor = kind === STOPPED ? stopped : turning
    hours[name] += (factor * secondsAt(table, kind)) / S_PER_HOUR
    kWhOf[name] += factor * kWhAt(table, kind, ELECTRIC)
    costOf[name] += factor * costAt(table, kind, ELECTRIC)
    heatKWh += factor * heatAt(table, kind)
  }
  return {
    runningHours: hours.idle + hours.work,
    hours,
    electric: amount(kWhOf.off + kWhOf.idle + kWhOf.work, costOf.off + costOf.idle + costOf.work, kgPerKWh),
    electricByClass: {
      off: amount(kWhOf.off, costOf.off, kgPerKWh),
      idle: amount(kWhOf.idle, costOf.idle, kgPerKWh),
      work: amount(kWhOf.work, costOf.work, kgPerKWh),
    },
    heatKWh,
    waste: {
      idle: wasteOf(table, IDLE, turning, stopped, kgPerKWh),
      overRelief: wasteOf(table, OVER_RELIEF, turning, stopped, kgPerKWh),
      unloading: wasteOf(table, UNLOADING, turning, stopped, kgPerKWh),
      metering: wasteOf(table, METERING, turning, stopped, kgPerKWh),
    },
  }
}
