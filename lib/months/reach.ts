/** How far the 95 % interval of a figure reaches, kWh. */
export interface Reach {
  readonly below: number
  readonly above: number
}

/**
 * Reach of a sum over machines, whose doubts have nothing in common but for a part of each that they all share: a works
 * that runs longer or shorter than planned does so with all its machines.
 * @param shared that part of each, 95 %, in the order of `reaches`; left out: none
 */
export function sumReach(reaches: readonly Reach[], shared: readonly number[] = []): Reach {
  const common = shared.reduce((sum, one) => sum + one, 0)
  const own = (reach: number, i: number) => Math.sqrt(Math.max(0, reach ** 2 - (shared[i] ?? 0) ** 2))
  return {
    below: Math.hypot(common, ...reaches.map((one, i) => own(one.below, i))),
    above: Math.hypot(common, ...reaches.map((one, i) => own(one.above, i))),
  }
}
