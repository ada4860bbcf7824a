import type { MachineMonthView } from '@/app/_server/views/month-view'
import type { Amount, WasteKind } from '@/lib/months/waste'
import { WASTE_KINDS } from '@/lib/months/waste'

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
  /** Change of the whole input against the month before, of machines known in both. */
  readonly changeKWh: number | null
}

/** Sums of a month over the machines shown. */
export function sumMonth(machines: readonly MachineMonthView[]): MonthSums {
  let input = NOTHING
  let waste = NOTHING
  let wholeInput = NOTHING
  let wholeWaste = NOTHING
  let loggedHours = 0
  let plannedHours = 0
  let changeKWh: number | null = null
  let isScaled = machines.length > 0
  const missing = new Set<WasteKind>()
  for (const { summary, change } of machines) {
    input = add(input, summary.measured.electric)
    loggedHours += summary.measured.runningHours
    plannedHours += summary.plannedHours
    if (summary.whole) wholeInput = add(wholeInput, summary.whole.electric)
    else isScaled = false
    for (const kind of WASTE_KINDS) {
      const measured = summary.measured.waste[kind]
      if (measured) waste = add(waste, measured)
      else missing.add(kind)
      const whole = summary.whole?.waste[kind]
      if (whole) wholeWaste = add(wholeWaste, whole)
    }
    if (change?.electric) changeKWh = (changeKWh ?? 0) + change.electric.change
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
