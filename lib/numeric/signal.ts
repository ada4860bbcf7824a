/** Numbers at even steps, one after the other: an array, or whatever gives them by their places. */
export interface Signal {
  readonly length: number
  at(place: number): number | undefined
}

/** The number at a place; NaN outside. */
export const valueAt = (signal: Signal, place: number): number => signal.at(place) ?? Number.NaN
