import type { ShownMachine } from '@/app/_server/views/month-columns-layout'
import { CAUSES, type ChangeSplit } from '@/lib/months/causes'
import { type Reach, sumReach } from '@/lib/months/reach'
import { REFERENCES, type Reference } from '@/lib/months/references'
import { type Amount, WASTE_KINDS, type WasteKind } from '@/lib/months/waste'

const NOTHING: Amount = { kWh: 0, cost: 0, kgCO2: 0 }

export const add = (a: Amount, b: Amount): Amount => ({
  kWh: a.kWh + b.kWh,
  cost: a.cost + b.cost,
  kgCO2: a.kgCO2 + b.kgCO2,
})

/** An amount with how far its energy's 95 % interval reaches; cost and carbon reach as far in proportion. */
export interface SureAmount extends Amount {
  readonly reach: Reach
}

export interface MonthSums {
  readonly input: SureAmount
  readonly waste: SureAmount
  /** Null where no machine ran, so that nothing can be scaled. */
  readonly wholeWaste: SureAmount | null
  readonly heatKWh: number
  readonly loggedHours: number
  readonly plannedHours: number
  /** Beside the price of energy, of the machines where it is known; null where of none. */
  readonly charges: { readonly demand: number | null; readonly reactive: number | null }
  /** Kinds of waste that some machine's sensors could not separate; they are missing from the sums. */
  readonly missing: readonly WasteKind[]
  /** Change of the whole month's waste of these kinds, in money and energy, of machines known in both; null without. */
  readonly changes: Readonly<Record<Reference, SummedChange | null>>
}

export interface SummedChange {
  readonly machines: number
  readonly kWh: ChangeSplit
  readonly cost: ChangeSplit
}

/** A machine of the month with the kinds of its waste that are looked at. */
export interface Picked {
  readonly machine: ShownMachine
  readonly kinds: readonly WasteKind[]
}

const addSplit = (a: ChangeSplit, b: ChangeSplit): ChangeSplit => ({
  change: a.change + b.change,
  effects: Object.fromEntries(
    CAUSES.map((cause) => [cause, a.effects[cause] + b.effects[cause]]),
  ) as ChangeSplit['effects'],
})

const NO_CHANGE: ChangeSplit = { change: 0, effects: { hours: 0, duty: 0, rate: 0, price: 0 } }

/** Change of the picked kinds against a reference, of machines that both know. */
export function sumChange(picked: readonly Picked[], reference: Reference): SummedChange | null {
  let machines = 0
  let kWh = NO_CHANGE
  let cost = NO_CHANGE
  for (const { machine, kinds } of picked) {
    const changes = machine.review.changes[reference]
    const known = kinds.flatMap((kind) => changes?.[kind] ?? [])
    if (known.length > 0) machines += 1
    for (const change of known) {
      kWh = addSplit(kWh, change.kWh)
      cost = addSplit(cost, change.cost)
    }
  }
  return machines > 0 ? { machines, kWh, cost } : null
}

/** The reaches that stand for the kinds looked at: of all kinds together where all are. */
const standingFor = ({ machine, kinds }: Picked) => {
  const { reach } = machine.review
  return kinds.length === WASTE_KINDS.length ? [reach.waste] : kinds.map((kind) => reach[kind])
}

/** What the planned hours may be off by, kWh: all machines of the works alike. */
const plannedDoubt = (picked: Picked) =>
  standingFor(picked).reduce((sum, one) => sum + (one?.scaledParts?.hours ?? 0), 0)

/** Reach of several kinds of a machine's waste: of all it is known, of some it is at most their sum. */
function reachOfKinds(picked: Picked, part: 'measured' | 'whole'): Reach {
  const known = standingFor(picked).flatMap((one) => one?.[part] ?? [])
  return known.reduce((sum, one) => ({ below: sum.below + one.below, above: sum.above + one.above }), {
    below: 0,
    above: 0,
  })
}

/** Null where none is known, else the sum of those that are. */
function sumKnown(values: readonly (number | null)[]): number | null {
  const known = values.flatMap((value) => value ?? [])
  return known.length > 0 ? known.reduce((sum, value) => sum + value, 0) : null
}

/** Sums of a month over the machines and kinds of waste shown. */
export function sumMonth(picked: readonly Picked[]): MonthSums {
  let input = NOTHING
  let waste = NOTHING
  let wholeWaste = NOTHING
  let heatKWh = 0
  let loggedHours = 0
  let plannedHours = 0
  let isScaled = picked.length > 0
  const missing = new Set<WasteKind>()
  for (const { machine, kinds } of picked) {
    const { month } = machine.review
    input = add(input, month.measured.electric)
    heatKWh += month.measured.heatKWh
    loggedHours += month.measured.runningHours
    plannedHours += month.plannedHours
    if (!month.whole) isScaled = false
    for (const kind of kinds) {
      const measured = month.measured.waste[kind]
      if (measured) waste = add(waste, measured)
      else missing.add(kind)
      const whole = month.whole?.waste[kind]
      if (whole) wholeWaste = add(wholeWaste, whole)
    }
  }
  const reviews = picked.map(({ machine }) => machine.review)
  return {
    input: { ...input, reach: sumReach(reviews.flatMap(({ reach }) => reach.electric?.measured ?? [])) },
    waste: { ...waste, reach: sumReach(picked.map((one) => reachOfKinds(one, 'measured'))) },
    wholeWaste: isScaled
      ? {
          ...wholeWaste,
          reach: sumReach(
            picked.map((one) => reachOfKinds(one, 'whole')),
            picked.map(plannedDoubt),
          ),
        }
      : null,
    heatKWh,
    loggedHours,
    plannedHours,
    charges: {
      demand: sumKnown(reviews.map(({ charges }) => charges.demand)),
      reactive: sumKnown(reviews.map(({ charges }) => charges.reactive)),
    },
    missing: [...missing],
    changes: Object.fromEntries(
      REFERENCES.map((reference) => [reference, sumChange(picked, reference)]),
    ) as MonthSums['changes'],
  }
}
