import type { MonthReviews } from './month-reviews'

/** Where today's figures of a machine differ from those that were frozen, measured electric input and its cost. */
export interface MonthDifference {
  readonly machineId: string
  readonly name: string
  /** Null where the machine was not in it. */
  readonly frozen: { readonly kWh: number; readonly cost: number } | null
  readonly now: { readonly kWh: number; readonly cost: number } | null
}

/** Below this share figures are the same but for rounding. */
const SAME_SHARE = 1e-9

type Machines = Pick<MonthReviews, 'machines'>

/** Machines whose month is another by now than when it was closed. */
export function frozenDifferences(frozen: Machines, now: Machines): MonthDifference[] {
  const amounts = ({ machines }: Machines) =>
    new Map(
      machines.map(({ machineId, name, review }) => {
        const { kWh, cost } = review.month.measured.electric
        return [machineId, { name, amount: { kWh, cost } }]
      }),
    )
  const [then, today] = [amounts(frozen), amounts(now)]
  const differs = (a: number, b: number) => Math.abs(a - b) > SAME_SHARE * Math.max(Math.abs(a), Math.abs(b))
  return [...new Set([...then.keys(), ...today.keys()])].flatMap((machineId) => {
    const [old, fresh] = [then.get(machineId), today.get(machineId)]
    const same =
      old &&
      fresh &&
      !differs(old.amount.kWh, fresh.amount.kWh) &&
      !differs(old.amount.cost, fresh.amount.cost)
    if (same) return []
    const name = fresh?.name ?? old?.name ?? machineId
    return [{ machineId, name, frozen: old?.amount ?? null, now: fresh?.amount ?? null }]
  })
}
