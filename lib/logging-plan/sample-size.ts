import { COVERAGE } from '@/lib/ledger/propagate'
import { studentFactor } from '@/lib/numeric/student-t'

const WITHIN = 0.95
/** Nobody logs more units than this; and a search must end. */
const MOST_UNITS = 10_000
/** A mean has no spread with fewer. */
const LEAST_UNITS = 2

/**
 * Half-width of the 95 % interval of a mean of `units` independent units, as a share of the mean: t(n − 1) · s / √n
 * with the standard deviation `shareSd` of one unit as a share of the mean.
 */
export const halfShareOfMean = (shareSd: number, units: number) =>
  (studentFactor(WITHIN, units - 1) * shareSd) / Math.sqrt(units)

/**
 * Fewest units whose mean is known within ±`halfShare` (95 %); null where more than 10,000 would not do. Sought upwards
 * from what the normal distribution asks for, which is never more than t does and a few units less.
 */
export function unitsNeeded(shareSd: number, halfShare: number): number | null {
  if (shareSd === 0) return LEAST_UNITS
  if (!(halfShare > 0)) return null
  const byNormal = (COVERAGE * shareSd) / halfShare
  let units = Math.max(LEAST_UNITS, Math.floor(byNormal ** 2))
  while (units <= MOST_UNITS && halfShareOfMean(shareSd, units) > halfShare) units++
  return units <= MOST_UNITS ? units : null
}
