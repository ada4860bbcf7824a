import type { MachineMonthView } from '@/app/_server/views/month-view'
import type { Amount, WasteKind } from '@/lib/months/waste'

const NOTHING: Amount = { kWh: 0, cost: 0, kgCO2: 0 }

export const add = (a: Amount, b: Amount): Amount => ({
  kWh: a.kWh + b.kWh,
  cost: a.cost + b.cost,
  kgCO2: a.kgCO2 + b.kgCO2,
})

export interface MonthSums {
  readonly input: Amount
  readonly waste: Amount
  /** Null where no machine ran, so that nothing can be scaled. */
  readonly wholeInput: Amount | null
  readonly wholeWaste: Amount | null
  readonly loggedHours: number
  readonly plannedHours: number
  /** Kinds of waste that some machine's sensors could not separate; they are missing from the sums. */
  readonly missing: readonly WasteKind[]
  /** Change of the whole month's waste of these kinds against the month before, of machines known in both. */
  readonly changeKWh: number | null
}

/** A machine of the month with the kinds of its waste that are looked at. */
export interface Picked {
  readonly machine: MachineMonthView
  readonly kinds: readonly WasteKind[]
}

/** Sums of a month over the machines and kinds of waste shown. */
export function sumMonth(picked: readonly Picked[]): MonthSums {
  let input = NOTHING
  let waste = NOTHING
  let wholeInput = NOTHING
  let wholeWaste = NOTHING
  let loggedHours = 0
  let plannedHours = 0
  let changeKWh: number | null = null
  let isScaled = picked.length > 0
  const missing = new Set<WasteKind>()
  for (const { machine, kinds } of picked) {
    const { summary, change } = machine
    input = add(input, summary.measured.electric)
    loggedHours += summary.measured.runningHours
    plannedHours += summary.plannedHours
    if (summary.whole) wholeInput = add(wholeInput, summary.whole.electric)
    else isScaled = false
    for (const kind of kinds) {
      const measured = summary.measured.waste[kind]
      if (measured) waste = add(waste, measured)
      else missing.add(kind)
      const whole = summary.whole?.waste[kind]
      if (whole) wholeWaste = add(wholeWaste, whole)
      const split = change?.[kind]
      if (split) changeKWh = (changeKWh ?? 0) + split.change
    }
  }
  return {
    input,
    waste,
    wholeInput: isScaled ? wholeInput : null,
    wholeWaste: isScaled ? wholeWaste : null,
    loggedHours,
    plannedHours,
    missing: [...missing],
    changeKWh,
  }
}
