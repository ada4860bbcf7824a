import type { Quantity } from '@/lib/contract/machine'
import { fromSi, toSi, type Unit } from '@/lib/units'
import { UNITS_OF } from './unit-of'

/** A machine's high end lies between these shares of its plate's figure. */
const LOWEST = 0.5
const HIGHEST = 1.3

/** The one other unit in which a reading (SI, as read in `unit`) would lie near the plate's figure, or null. */
export function fittingUnit(quantity: Quantity, highSi: number, unit: Unit, plateSi: number): Unit | null {
  const logged = fromSi(highSi, unit)
  const fitting = UNITS_OF[quantity].filter((other) => {
    const share = toSi(logged, other) / plateSi
    return other !== unit && share > LOWEST && share < HIGHEST
  })
  return fitting.length === 1 ? fitting[0] : null
}
