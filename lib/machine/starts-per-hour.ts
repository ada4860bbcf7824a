import type { MotorSize } from '@/lib/contract/machine'
import { W_PER_HP, W_PER_KW } from '@/lib/units'

/** Rated power in hp, most starts an hour, least rest between starts in s. */
type Row = readonly [hp: number, startsPerHour: number, restS: number]

/** NEMA MG 10, four-pole Design A and B motors (values as quoted in the project's check values). */
const FOUR_POLE: readonly Row[] = [
  [5, 16.3, 42],
  [10, 12.5, 46],
  [15, 10.7, 50],
  [20, 9.6, 55],
  [25, 8.8, 58],
  [30, 8.2, 60],
  [40, 7.4, 65],
  [50, 6.8, 72],
  [75, 5.8, 90],
  [100, 5.2, 110],
  [150, 4.5, 160],
  [200, 4.0, 300],
]

/** Starts allowed over a four-pole motor's, from memory of the same table: two poles about half. */
const BY_POLES: Readonly<Record<number, number>> = { 2: 0.5, 4: 1, 6: 1.15, 8: 1.3 }

/** Most starts an hour and least rest of a motor; between sizes by linear interpolation, beyond the table its ends. */
export function startLimits(plate: MotorSize): { startsPerHour: number; restS: number } {
  const hp = (plate.ratedPowerKW * W_PER_KW) / W_PER_HP
  const last = FOUR_POLE.length - 1
  const at = Math.min(Math.max(hp, FOUR_POLE[0][0]), FOUR_POLE[last][0])
  const high = Math.max(
    1,
    FOUR_POLE.findIndex(([size]) => size >= at),
  )
  const [lowHp, lowStarts, lowRest] = FOUR_POLE[high - 1]
  const [highHp, highStarts, highRest] = FOUR_POLE[high]
  const part = (at - lowHp) / (highHp - lowHp)
  return {
    startsPerHour: (lowStarts + part * (highStarts - lowStarts)) * (BY_POLES[plate.poles] ?? 1),
    restS: lowRest + part * (highRest - lowRest),
  }
}
