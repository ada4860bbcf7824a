import type { PhaseKind } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { NamedMachine } from '@/lib/economics/planned-time'
import { changeFactors, changeMonth, type FigureChange, splitChange } from './change'
import { type ChangeReach, changeReach, meanReach } from './change-reach'
import type { Figure } from './figures'
import { kindTable, wholeTable } from './kind-table'
import { monthBasis } from './month'
import { monthReach, weightsOf } from './month-intervals'
import type { Reach } from './reach'
import { referenceTable } from './reference-months'
import type { MonthSummary } from './summary'

/** One side of a change: hours run, price of a kWh of the figure, and its energy with its 95 % interval where known. */
export interface ChangeSide {
  readonly runningHours: number
  readonly pricePerKWh: number
  readonly kWh: number
  readonly reach: Reach | null
}

/** A kind of phase on both sides: its share of a running hour, and kWh of the figure in an hour of it. */
export interface ChangeKind {
  readonly kind: PhaseKind
  readonly before: { readonly share: number; readonly kWhPerHour: number }
  readonly after: { readonly share: number; readonly kWhPerHour: number }
}

export interface ChangeInputs {
  readonly before: ChangeSide
  readonly after: ChangeSide
  readonly kinds: readonly ChangeKind[]
  readonly change: FigureChange
  /** Null where a side has no interval. */
  readonly reach: ChangeReach | null
}

/** What a change between whole months was split from. Null where it is not known, as in `splitChange`. */
export function changeInputs(
  month: string,
  machine: NamedMachine,
  summary: MonthSummary,
  reference: { readonly months: readonly { readonly month: string; readonly summary: MonthSummary }[] },
  figure: Figure,
  site: Site,
): ChangeInputs | null {
  const reachOf = (of: string, held: MonthSummary) => {
    const { plannedHours } = monthBasis(of, machine, site)
    const limits = { plannedHours, plannedHoursLimitShare: site.plannedHoursLimitShare }
    return held.spread && monthReach(held, weightsOf(figure), limits).whole
  }
  const { plannedHours } = monthBasis(month, machine, site)
  const fresh = changeMonth(wholeTable(kindTable(summary.kinds), plannedHours))
  const months = reference.months.map((one) => ({ month: one.month, table: kindTable(one.summary.kinds) }))
  const old = changeMonth(referenceTable({ months }, machine, site))
  const factors = changeFactors(old, fresh, figure)
  const change = splitChange(old, fresh, figure)
  if (!factors || !change) return null
  const side = (of: typeof factors.before, reach: Reach | null): ChangeSide => ({
    runningHours: of.hours,
    pricePerKWh: of.price,
    kWh: of.hours * of.duty.reduce((sum, share, i) => sum + share * of.rate[i], 0),
    reach,
  })
  const before = side(
    factors.before,
    meanReach(reference.months.map((one) => reachOf(one.month, one.summary))),
  )
  const after = side(factors.after, reachOf(month, summary))
  return {
    before,
    after,
    kinds: factors.kinds.map((kind, i) => ({
      kind,
      before: { share: factors.before.duty[i], kWhPerHour: factors.before.rate[i] },
      after: { share: factors.after.duty[i], kWhPerHour: factors.after.rate[i] },
    })),
    change,
    reach: changeReach(before, after),
  }
}
