import type { Site } from '@/lib/contract/site'
import { type NamedMachine, plannedStretches } from '@/lib/economics/planned-time'
import { type FigureChange, splitChanges } from './change'
import { type MonthCharges, monthCharges } from './charges'
import { FIGURES, type Figure } from './figures'
import { type MachineMonth, machineMonth, monthBasis, runningHoursOf, wholeKinds } from './month'
import { type MonthReach, monthReach, wasteWeights, weightsOf } from './month-intervals'
import { type ReferenceMonths, referenceKinds } from './reference-months'
import { REFERENCES, type Reference } from './references'
import { type Representative, representative } from './representative'
import type { MonthSummary } from './summary'

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

type Named<Name extends string, Value> = Readonly<Record<Name, Value>>
const named = <Name extends string, Value>(names: readonly Name[], of: (name: Name) => Value) =>
  Object.fromEntries(names.map((name) => [name, of(name)])) as Named<Name, Value>

/** Reviews a machine's month: whole months are compared, measured and scaled to what each had planned. */
export function reviewMachine(
  month: string,
  machine: NamedMachine,
  summary: MonthSummary,
  references: Readonly<Record<Reference, ReferenceMonths | null>>,
  site: Site,
): MachineReview {
  const basis = monthBasis(month, machine, site)
  const { plannedHoursLimitShare } = site
  const limits = { plannedHours: basis.plannedHours, plannedHoursLimitShare }
  const isKnown = (k: number) => summary.kinds.every((one) => one.kWh[k] !== null)
  // Without it the logs were rolled up by an earlier engine and are about to be again: not known, not exact.
  const reachOf = (weights: readonly number[]) =>
    summary.spread ? monthReach(summary, weights, limits) : null
  const whole = wholeKinds(summary.kinds, basis.plannedHours)
  const changes = (reference: Reference) => {
    const of = references[reference]
    if (!of || of.months.length === 0) return null
    return splitChanges(referenceKinds(of, machine, site), whole)
  }
  const hours = runningHoursOf(summary.kinds)
  return {
    month: machineMonth(summary, basis),
    reach: {
      ...named(FIGURES, (figure) => (isKnown(FIGURES.indexOf(figure)) ? reachOf(weightsOf(figure)) : null)),
      waste: reachOf(wasteWeights(summary.kinds)),
    },
    changes: named(REFERENCES, changes),
    charges: monthCharges(month, summary, site),
    represents: representative(
      summary.spans,
      plannedStretches(month, machine, site),
      summary.daySpread.days,
      summary.leftOutS,
      site.timeZone,
    ),
    logs: summary.logs,
    days: summary.daySpread.days,
    cyclesPerHour: hours > 0 ? summary.cycles / hours : null,
    emissionKgPerKWh: basis.emissionKgPerKWh,
  }
}
