import { effectiveDegrees, type PartOfSpread } from '@/lib/numeric/effective-degrees'
import { studentFactor } from '@/lib/numeric/student-t'

const WITHIN = 0.95
/** Beyond so many degrees of freedom Student's distribution is the normal one. */
const MANY = 1000
const NORMAL = 1.96

/** A 95 % half-width from its parts, with the degrees of freedom and the factor (JCGM 100:2008, G.4). */
export function halfWidth(parts: readonly PartOfSpread[]) {
  const sd = Math.sqrt(parts.reduce((sum, part) => sum + part.sd ** 2, 0))
  const degrees = Math.max(1, effectiveDegrees(parts))
  const factor = degrees > MANY ? NORMAL : studentFactor(WITHIN, Math.floor(degrees))
  return { half: factor * sd, degrees: Math.min(degrees, MANY), factor }
}
