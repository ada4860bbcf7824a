import { motorsOf } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import { W_PER_KW } from '@/lib/units'

/** Efficiency times power factor of a common motor at full load (common practice, no source). */
const USUAL_PRODUCT = 0.78

/** Rated current of all motors in A; where a plate does not say, about what its output and voltage ask for. */
export function ratedCurrentA(machine: Machine): number {
  return motorsOf(machine).reduce((sum, { plate, count }) => {
    const outputW = plate.ratedPowerKW * W_PER_KW
    const usualA = outputW / (Math.sqrt(3) * plate.ratedVoltageV * USUAL_PRODUCT)
    return sum + count * (plate.ratedCurrentA ?? usualA)
  }, 0)
}
