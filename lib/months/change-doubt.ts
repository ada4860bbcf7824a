import type { Site } from '@/lib/contract/site'
import { type NamedMachine, plannedHoursOf } from '@/lib/economics/planned-time'
import { changeMonth, splitChanges } from './change'
import { type ChangeReach, changeReach } from './change-reach'
import { figureIndex } from './figures'
import { costAt, hasKind, KIND_COUNT, type KindTable, kWhAt, wholeTable } from './kind-table'
import { ALL_WASTE, type NarrowMonth } from './narrow-month'
import { reachAt } from './narrow-reach'
import { type Reach, sumReach } from './reach'
import { referenceTable } from './reference-months'
import { WASTE_KINDS, type WasteKind } from './waste'

/** How far a figure reaches, 95 %, and how much of it is the doubt of planned hours, which all machines share. */
export interface SharedReach extends Reach {
  readonly shared: number
}

/** One month of a change: energy in kWh, and money at that month's price, which is exact. */
export interface DoubtSide {
  readonly kWh: SharedReach
  readonly cost: SharedReach
}

/** What both months of one machine's change are sure of. */
export interface ChangeDoubt {
  readonly before: DoubtSide
  readonly after: DoubtSide
}

export interface MonthOfMachine {
  readonly month: string
  readonly narrow: NarrowMonth
}

/** The change of waste of one machine: how much, and how sure; without where a month was rolled up by an earlier engine. */
export interface DoubtedChange {
  readonly kWh: number
  readonly cost: number
  readonly doubt: ChangeDoubt | null
}

const scaled = ({ below, above, shared }: SharedReach, times: number): SharedReach => ({
  below: below * times,
  above: above * times,
  shared: shared * times,
})

/** Of several figures of one machine, or of several months that may all be off alike: at most their sum. */
function together(reaches: readonly SharedReach[]): SharedReach {
  const sum = (side: keyof SharedReach) => reaches.reduce((total, one) => total + one[side], 0)
  return { below: sum('below'), above: sum('above'), shared: sum('shared') }
}

/** A figure of a table, all kinds of phase together; NaN where it was not separable. */
function totalOf(table: KindTable, figure: number) {
  let [kWh, cost] = [0, 0]
  for (let kind = 0; kind < KIND_COUNT; kind++) {
    if (!hasKind(table, kind)) continue
    kWh += kWhAt(table, kind, figure)
    cost += costAt(table, kind, figure)
  }
  return { kWh, cost }
}

/** Some kinds of waste of a whole month; of all that it can separate it is known how they go together. */
function reachOfKinds(
  { month, narrow }: MonthOfMachine,
  kinds: readonly WasteKind[],
  machine: NamedMachine,
  site: Site,
): SharedReach | null {
  const { plannedHoursLimitShare } = site
  const limits = { plannedHours: plannedHoursOf(month, machine, site), plannedHoursLimitShare }
  const of = (at: number, kWh: number) => {
    const found = reachAt(narrow, at, kWh, limits)
    return found && { ...(found.whole ?? found.measured), shared: found.scaledParts?.hours ?? 0 }
  }
  const kWhOf = (kind: WasteKind) => totalOf(narrow.table, figureIndex(kind)).kWh
  const separable = WASTE_KINDS.filter((kind) => !Number.isNaN(kWhOf(kind)))
  if (kinds.length > 1 && kinds.length === separable.length)
    return of(
      ALL_WASTE,
      kinds.reduce((sum, kind) => sum + kWhOf(kind), 0),
    )
  const each = kinds.flatMap((kind) => of(figureIndex(kind), kWhOf(kind)) ?? [])
  return each.length === kinds.length ? together(each) : null
}

function sideOf(reach: SharedReach, table: KindTable, kinds: readonly WasteKind[]): DoubtSide {
  const totals = kinds.map((kind) => totalOf(table, figureIndex(kind)))
  const kWh = totals.reduce((sum, one) => sum + one.kWh, 0)
  const cost = totals.reduce((sum, one) => sum + one.cost, 0)
  return { kWh: reach, cost: scaled(reach, kWh > 0 ? cost / kWh : 0) }
}

/**
 * How some kinds of a machine's waste changed between whole months, of those that both sides can separate, and what both
 * sides are sure of; null where they have none in common.
 */
export function changeDoubt(
  own: MonthOfMachine,
  held: readonly MonthOfMachine[],
  kinds: readonly WasteKind[],
  machine: NamedMachine,
  site: Site,
): DoubtedChange | null {
  const fresh = wholeTable(own.narrow.table, plannedHoursOf(own.month, machine, site))
  const months = held.map(({ month, narrow }) => ({ month, table: narrow.table }))
  const old = referenceTable({ months }, machine, site)
  const changes = splitChanges(changeMonth(old), changeMonth(fresh))
  const known = kinds.filter((kind) => changes[kind])
  if (known.length === 0) return null
  const sum = (of: 'kWh' | 'cost') =>
    known.reduce((total, kind) => total + (changes[kind]?.[of].change ?? 0), 0)
  const after = reachOfKinds(own, known, machine, site)
  const befores = held.flatMap((one) => reachOfKinds(one, known, machine, site) ?? [])
  const doubt =
    after && befores.length === held.length
      ? {
          before: sideOf(scaled(together(befores), 1 / held.length), old, known),
          after: sideOf(after, fresh, known),
        }
      : null
  return { kWh: sum('kWh'), cost: sum('cost'), doubt }
}

/** Reach of one month's side, summed over machines. */
const sumOf = (doubts: readonly ChangeDoubt[], side: keyof ChangeDoubt, of: keyof DoubtSide): Reach =>
  sumReach(
    doubts.map((one) => one[side][of]),
    doubts.map((one) => one[side][of].shared),
  )

/**
 * Interval of a sum of changes over machines, all against months of one kind. Machines have nothing in common but how far
 * hours may be from the plan, which moves all of them alike within a month; so that part adds up and the rest adds in
 * squares (JCGM 100:2008, 5.1.2 and 5.2.2). Between the two months nothing is taken to cancel, as within a machine. Intervals
 * that are wide because few days were logged (Student's t) add up to more than that of the sum, which is surer than said.
 */
export function sumChangeReach(doubts: readonly ChangeDoubt[]): ChangeReach {
  const of = (figure: keyof DoubtSide): Reach => {
    const side = (name: keyof ChangeDoubt) => ({ reach: sumOf(doubts, name, figure), pricePerKWh: 1 })
    return changeReach(side('before'), side('after'))?.kWh ?? { below: 0, above: 0 }
  }
  return { kWh: of('kWh'), cost: of('cost') }
}
