/** A part of a combined standard deviation, with the degrees of freedom that it is known with. */
export interface PartOfSpread {
  readonly sd: number
  /** Infinite for what is not estimated from these data. */
  readonly degrees: number
}

/** Effective degrees of freedom of a combined standard deviation: Welch and Satterthwaite, JCGM 100:2008, G.4.1. */
export function effectiveDegrees(parts: readonly PartOfSpread[]): number {
  const variance = parts.reduce((sum, { sd }) => sum + sd ** 2, 0)
  const spread = parts.reduce((sum, { sd, degrees }) => sum + sd ** 4 / degrees, 0)
  return spread > 0 ? variance ** 2 / spread : Number.POSITIVE_INFINITY
}
