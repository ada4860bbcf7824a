/** How far the 95 % interval of a figure reaches, kWh. */
export interface Reach {
  readonly below: number
  readonly above: number
}

/** Reach of a sum over machines, whose doubts have nothing in common. */
export function sumReach(reaches: readonly Reach[]): Reach {
  return {
    below: Math.hypot(...reaches.map((one) => one.below)),
    above: Math.hypot(...reaches.map((one) => one.above)),
  }
}
