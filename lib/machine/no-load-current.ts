import type { MotorSize } from '@/lib/contract/machine'

/**
 * No-load current as a share of rated current for four poles, by rated power in kW.
 * Range 30–40 % of full load, to 65 % in small motors (trade page quoted in the project's check
 * values); the steps between are common practice, no source.
 */
const FOUR_POLE: readonly (readonly [number, number])[] = [
  [0.75, 0.6],
  [2.2, 0.5],
  [5.5, 0.45],
  [11, 0.42],
  [22, 0.39],
  [45, 0.35],
  [90, 0.32],
  [200, 0.3],
]

/** More poles magnetise more: common practice, no source. */
const BY_POLES: Readonly<Record<number, number>> = { 2: -0.07, 4: 0, 6: 0.08, 8: 0.15 }

/** 95 % of motors lie within this share of rated current of the default (domain rule). */
export const NO_LOAD_SHARE_LIMIT = 0.1

/** Default no-load current over rated current for a nameplate that does not state it. */
export function defaultNoLoadShare(plate: MotorSize): number {
  const size = Math.log(plate.ratedPowerKW)
  let share = FOUR_POLE[0][1]
  for (let i = 1; i < FOUR_POLE.length; i++) {
    const [lowKW, lowShare] = FOUR_POLE[i - 1]
    const [highKW, highShare] = FOUR_POLE[i]
    if (plate.ratedPowerKW <= lowKW) break
    const part = Math.min(1, (size - Math.log(lowKW)) / (Math.log(highKW) - Math.log(lowKW)))
    share = lowShare + part * (highShare - lowShare)
  }
  return Math.min(0.75, share + (BY_POLES[plate.poles] ?? 0.15))
}
