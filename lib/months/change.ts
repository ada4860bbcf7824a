import type { MachineMonth } from './month'
import { WASTE_KINDS, type WasteKind } from './waste'

/** A change told apart by what made it; the two effects add up to it. */
export interface ChangeSplit {
  readonly change: number
  /** The machine ran more or fewer hours. */
  readonly hoursEffect: number
  /** An hour took more or less. */
  readonly rateEffect: number
}

interface Spent {
  readonly hours: number
  readonly amount: number
}

/**
 * Splits the change of an amount into the effect of hours and the effect of the amount per hour, each
 * taken at the mean of the other, so that nothing is left over and swapping the two months only turns
 * the signs. Without hours on one side the other side's rate holds for both.
 */
export function splitChange(before: Spent, after: Spent): ChangeSplit {
  const change = after.amount - before.amount
  const rateBefore = before.hours > 0 ? before.amount / before.hours : null
  const rateAfter = after.hours > 0 ? after.amount / after.hours : null
  const rateChange = rateBefore === null || rateAfter === null ? 0 : rateAfter - rateBefore
  const rateEffect = (rateChange * (before.hours + after.hours)) / 2
  return { change, hoursEffect: change - rateEffect, rateEffect }
}

/** Change of a machine's whole month in kWh, of the input and of each kind of waste; null where either is unknown. */
export function monthChange(
  before: MachineMonth,
  after: MachineMonth,
): Record<'electric' | WasteKind, ChangeSplit | null> {
  const spent = (month: MachineMonth, kind: 'electric' | WasteKind): Spent | null => {
    const amount = kind === 'electric' ? month.whole?.electric : month.whole?.waste[kind]
    return month.whole && amount ? { hours: month.whole.runningHours, amount: amount.kWh } : null
  }
  const split = (kind: 'electric' | WasteKind) => {
    const [old, fresh] = [spent(before, kind), spent(after, kind)]
    return [kind, old && fresh ? splitChange(old, fresh) : null] as const
  }
  return Object.fromEntries((['electric', ...WASTE_KINDS] as const).map(split)) as Record<
    'electric' | WasteKind,
    ChangeSplit | null
  >
}
