import { PHASE_CLASSES, type PhaseClass } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { rememberedBySite } from '@/lib/economics/by-site'
import { daysOfMonth } from '@/lib/economics/local-time'
import { type NamedMachine, plannedHoursOf } from '@/lib/economics/planned-time'
import { emissionOn } from '@/lib/economics/tariff-version'
import { S_PER_HOUR } from '@/lib/units'
import { type Figure, figureIndex } from './figures'
import type { KindSums, MonthSummary } from './summary'
import { type Amount, classOfKind, WASTE_KINDS, type WasteKind } from './waste'

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

/** Combines what many logs of one machine add to one month. */
export function machineMonth({ kinds }: MonthSummary, basis: MonthBasis): MachineMonth {
  const { plannedHours, emissionKgPerKWh } = basis
  const measured = partOf(kinds, emissionKgPerKWh)
  const hours = measured.runningHours
  const coverageShare = plannedHours > 0 ? hours / plannedHours : hours > 0 ? 1 : 0
  const known = hours > 0
  const whole = known ? wholeKinds(kinds, plannedHours) : []
  return {
    plannedHours,
    measured,
    scaled: known ? partOf(unloggedKinds(kinds, plannedHours), emissionKgPerKWh) : null,
    whole: known ? partOf(whole, emissionKgPerKWh) : null,
    coverageShare,
    thinCoverage: coverageShare < THIN_COVERAGE_SHARE,
  }
}

export const runningHoursOf = (kinds: readonly KindSums[]) =>
  hoursOf(kinds.filter(({ kind }) => classOfKind(kind) !== 'off'))

/** How often the measured turning hours fit into the planned hours that nobody logged. */
export const unloggedFactor = (kinds: readonly KindSums[], plannedHours: number) =>
  Math.max(0, plannedHours / runningHoursOf(kinds) - 1)

/** The unlogged planned hours. Starts come with the running hours and are scaled along; standstill says nothing of them. */
function unloggedKinds(kinds: readonly KindSums[], plannedHours: number): KindSums[] {
  const factor = unloggedFactor(kinds, plannedHours)
  return kinds.filter(({ kind }) => kind !== 'stopped').map((one) => times(one, factor))
}

/** Measured and scaled together, kind by kind. */
export function wholeKinds(kinds: readonly KindSums[], plannedHours: number): KindSums[] {
  const factor = 1 + unloggedFactor(kinds, plannedHours)
  return kinds.map((one) => (one.kind === 'stopped' ? one : times(one, factor)))
}

function times({ kind, seconds, kWh, cost, heatKWh }: KindSums, factor: number): KindSums {
  const scaled = (value: number | null) => (value === null ? null : value * factor)
  return {
    kind,
    seconds: seconds * factor,
    kWh: kWh.map(scaled),
    cost: cost.map(scaled),
    heatKWh: heatKWh * factor,
  }
}

/** A figure over kinds of phase; null where some of it could not be separated. */
export function amountOf(
  kinds: readonly KindSums[],
  figure: Figure,
  emissionKgPerKWh: number,
): Amount | null {
  const k = figureIndex(figure)
  let kWh = 0
  let cost = 0
  for (const one of kinds) {
    const [energy, money] = [one.kWh[k], one.cost[k]]
    if (energy === null || money === null) return null
    kWh += energy
    cost += money
  }
  return { kWh, cost, kgCO2: kWh * emissionKgPerKWh }
}

function partOf(kinds: readonly KindSums[], emissionKgPerKWh: number): MonthPart {
  const ofClass = (name: PhaseClass) => kinds.filter(({ kind }) => classOfKind(kind) === name)
  const nothing: Amount = { kWh: 0, cost: 0, kgCO2: 0 }
  const electric = (of: readonly KindSums[]) => amountOf(of, 'electric', emissionKgPerKWh) ?? nothing
  return {
    runningHours: runningHoursOf(kinds),
    hours: byName(PHASE_CLASSES, (name) => hoursOf(ofClass(name))),
    electric: electric(kinds),
    electricByClass: byName(PHASE_CLASSES, (name) => electric(ofClass(name))),
    heatKWh: kinds.reduce((sum, one) => sum + one.heatKWh, 0),
    waste: byName(WASTE_KINDS, (kind) => amountOf(kinds, kind, emissionKgPerKWh)),
  }
}

const hoursOf = (kinds: readonly KindSums[]) =>
  kinds.reduce((sum, { seconds }) => sum + seconds, 0) / S_PER_HOUR

function byName<Name extends string, Value>(
  names: readonly Name[],
  value: (name: Name) => Value,
): Record<Name, Value> {
  return Object.fromEntries(names.map((name) => [name, value(name)])) as Record<Name, Value>
}
