import type { Site } from '@/lib/contract/site'
import { type NamedMachine, plannedStretches } from '@/lib/economics/planned-time'
import { changeMonth, type FigureChange, splitChanges } from './change'
import { type MonthCharges, monthCharges } from './charges'
import { type Figure, figureIndex } from './figures'
import { wholeTable } from './kind-table'
import { type MachineMonth, type MonthPart, machineMonth, monthBasis } from './month'
import type { IntervalBasis, MonthReach } from './month-intervals'
import { ALL_WASTE, type NarrowMonth } from './narrow-month'
import { reachAt } from './narrow-reach'
import { type ReferenceMonths, referenceTable } from './reference-months'
import { REFERENCES, type Reference } from './references'
import { type Representative, representative } from './representative'
import { WASTE_KINDS } from './waste'

/** All that a month says of a machine. */
export interface MachineReview {
  readonly month: MachineMonth
  /** By figure; `waste` is all waste that the sensors separate. Null where not separable. */
  readonly reach: Readonly<Record<Figure | 'waste', MonthReach | null>>
  /** By reference, then by figure; null where the reference holds nothing, or not of that figure. */
  readonly changes: Readonly<Record<Reference, Readonly<Record<Figure, FigureChange | null>> | null>>
  readonly charges: MonthCharges
  readonly represents: Representative
  readonly logs: number
  readonly days: number
  readonly cyclesPerHour: number | null
  readonly emissionKgPerKWh: number
}

function reaches(
  of: NarrowMonth,
  { electric, waste }: MonthPart,
  limits: IntervalBasis,
): MachineReview['reach'] {
  const reach: Partial<Record<Figure | 'waste', MonthReach | null>> = {
    electric: reachAt(of, figureIndex('electric'), electric.kWh, limits),
  }
  let separable = 0
  for (const kind of WASTE_KINDS) {
    const kWh = waste[kind]?.kWh ?? null
    reach[kind] = reachAt(of, figureIndex(kind), kWh, limits)
    separable += kWh ?? 0
  }
  reach.waste = reachAt(of, ALL_WASTE, separable, limits)
  return reach as MachineReview['reach']
}

/** Reviews a machine's month: whole months are compared, measured and scaled to what each had planned. */
export function reviewMachine(
  month: string,
  machine: NamedMachine,
  of: NarrowMonth,
  references: Readonly<Record<Reference, ReferenceMonths | null>>,
  site: Site,
): MachineReview {
  const basis = monthBasis(month, machine, site)
  const { plannedHoursLimitShare } = site
  const own = machineMonth(of.table, basis)
  const whole = changeMonth(wholeTable(of.table, basis.plannedHours))
  const changes: Partial<Record<Reference, MachineReview['changes'][Reference]>> = {}
  for (const reference of REFERENCES) {
    const held = references[reference]
    const isHeld = held && held.months.length > 0
    changes[reference] = isHeld ? splitChanges(changeMonth(referenceTable(held, machine, site)), whole) : null
  }
  const hours = own.measured.runningHours
  return {
    month: own,
    reach: reaches(of, own.measured, { plannedHours: basis.plannedHours, plannedHoursLimitShare }),
    changes: changes as MachineReview['changes'],
    charges: monthCharges(month, of, site),
    represents: representative(
      of.spans,
      plannedStretches(month, machine, site),
      of.days,
      of.leftOutS,
      site.timeZone,
    ),
    logs: of.logs,
    days: of.days,
    cyclesPerHour: hours > 0 ? of.cycles / hours : null,
    emissionKgPerKWh: basis.emissionKgPerKWh,
  }
}
