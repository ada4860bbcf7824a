import { linePumpsOf } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import { M3_PER_CM3 } from '@/lib/units'
import { S_PER_MINUTE } from './clock'

/** Theoretical flow of all pumps on the line at rated speed, displacement × speed, in m³/s. */
export function theoreticalFlowM3S(machine: Machine): number {
  return linePumpsOf(machine).reduce(
    (sum, { plate, count }) =>
      sum + count * ((plate.displacementCm3 * M3_PER_CM3 * plate.ratedSpeedRpm) / S_PER_MINUTE),
    0,
  )
}
