import type { MotorSize } from '@/lib/contract/machine'
import { W_PER_HP, W_PER_KW } from '@/lib/units'

/**
 * Power factor at full load of four-pole motors (secondary page quoted in the project's check values): 5–20 hp
 * .86, 20–100 hp .89, 100–300 hp .91. Each holds at its band's middle (geometric), straight lines between.
 */
const FULL_LOAD: readonly (readonly [hp: number, powerFactor: number])[] = [
  [10, 0.86],
  [44.7, 0.89],
  [173, 0.91],
]

/** More poles magnetise more (common practice, no source). */
const BY_POLES: Readonly<Record<number, number>> = { 2: 0.02, 4: 0, 6: -0.04, 8: -0.08 }

/** 95 % of motors lie within this of the default (common practice, no source). */
export const POWER_FACTOR_LIMIT = 0.05

/** Usual rated power factor of a motor of this size and number of poles. */
export function defaultPowerFactor(motor: MotorSize): number {
  const hp = (motor.ratedPowerKW * W_PER_KW) / W_PER_HP
  let usual = FULL_LOAD[0][1]
  for (let i = 1; i < FULL_LOAD.length; i++) {
    const [lowHp, low] = FULL_LOAD[i - 1]
    const [highHp, high] = FULL_LOAD[i]
    const part = Math.log(hp / lowHp) / Math.log(highHp / lowHp)
    if (part > 0) usual = low + Math.min(1, part) * (high - low)
  }
  return usual + (BY_POLES[motor.poles] ?? -0.08)
}
