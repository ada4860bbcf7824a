import type { Machine } from '@/lib/contract/machine'
import { M3_PER_CM3 } from '@/lib/units'
import { S_PER_MINUTE } from './clock'

/** Theoretical flow of the pump at rated speed, displacement × speed, in m³/s. */
export function theoreticalFlowM3S(machine: Machine): number {
  const { displacementCm3, ratedSpeedRpm } = machine.pump
  return (displacementCm3 * M3_PER_CM3 * ratedSpeedRpm) / S_PER_MINUTE
}
