/** One log's difference to what was expected of it, actual − expected: up = worse. */
export interface Difference {
  readonly valueJ: number
  /** Standard deviation of the difference while nothing has changed, J. */
  readonly sdJ: number
}

export interface CusumPoint {
  readonly sumJ: number
  /** Page's sums in standard deviations. */
  readonly above: number
  readonly below: number
  readonly alarm: 'worse' | 'better' | null
}

/** A shift of one standard deviation is to be found: half of it is allowed for, and five are an alarm (Page's rule as
 * textbooks of quality control give it; from memory). In steady runs that is a false alarm in some 465 points. */
const ALLOWANCE = 0.5
const LIMIT = 5

/** Running sum of differences in the order of time, and Page's two-sided decision rule on the standardised ones. */
export function cusum(differences: readonly Difference[]): CusumPoint[] {
  let sumJ = 0
  let above = 0
  let below = 0
  return differences.map(({ valueJ, sdJ }) => {
    sumJ += valueJ
    const z = sdJ > 0 ? valueJ / sdJ : 0
    above = Math.max(0, above + z - ALLOWANCE)
    below = Math.max(0, below - z - ALLOWANCE)
    const alarm = above > LIMIT ? 'worse' : below > LIMIT ? 'better' : null
    return { sumJ, above, below, alarm }
  })
}
