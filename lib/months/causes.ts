/** What can change a month's cost: hours run, what they are spent on, what an hour of each kind takes, the price. */
export const CAUSES = ['hours', 'duty', 'rate', 'price'] as const
export type Cause = (typeof CAUSES)[number]

/** A change told apart by what made it; the effects add up to it. */
export interface ChangeSplit {
  readonly change: number
  readonly effects: Readonly<Record<Cause, number>>
}
