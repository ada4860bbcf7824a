import { studentFactor } from '@/lib/numeric/student-t'

const WITHIN = 0.95
/** Nobody logs more units than this; and a search must end. */
const MOST_UNITS = 100_000
/** A mean has no spread with fewer. */
const LEAST_UNITS = 2

/**
 * Half-width of the 95 % interval of a mean of `units` independent units, as a share of the mean: t(n − 1) · s / √n
 * with the standard deviation `shareSd` of one unit as a share of the mean.
 */
export const halfShareOfMean = (shareSd: number, units: number) =>
  (studentFactor(WITHIN, units - 1) * shareSd) / Math.sqrt(units)

/**
 * Fewest units whose mean is known within ±`halfShare` (95 %); null where more than 100,000 would not do. Found by
 * halving, since the half-width falls with every unit.
 */
export function unitsNeeded(shareSd: number, halfShare: number): number | null {
  if (!(halfShare > 0)) return shareSd === 0 ? LEAST_UNITS : null
  if (halfShareOfMean(shareSd, MOST_UNITS) > halfShare) return null
  let low = LEAST_UNITS - 1
  let high = MOST_UNITS
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (halfShareOfMean(shareSd, middle) > halfShare) low = middle
    else high = middle
  }
  return high
}
