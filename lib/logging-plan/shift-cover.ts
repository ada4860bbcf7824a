import { S_PER_HOUR } from '@/lib/units'

/** A shift by the wall clock at the site; one that runs past midnight ends before it begins. */
export interface ShiftBand {
  readonly shift: 'early' | 'late' | 'night'
  readonly fromHour: number
  readonly toHour: number
}

/** The usual three (common practice, no source). */
export const SHIFT_BANDS: readonly ShiftBand[] = [
  { shift: 'early', fromHour: 6, toHour: 14 },
  { shift: 'late', fromHour: 14, toHour: 22 },
  { shift: 'night', fromHour: 22, toHour: 6 },
]

export interface Recorded {
  readonly startedAtMs: number
  readonly durationS: number
}

const STEP_S = S_PER_HOUR / 4
/** A recording longer than this is counted over its first month; nobody plans a visit by the rest. */
const LONGEST_S = 31 * 24 * S_PER_HOUR

const isIn = (hour: number, { fromHour, toHour }: ShiftBand) =>
  fromHour < toHour ? hour >= fromHour && hour < toHour : hour >= fromHour || hour < toHour

/**
 * Hours already recorded in each shift, to a quarter of an hour.
 * @param hourOf hour of the day, 0 to 24, at the site at an instant
 */
export function hoursByShift(
  recorded: readonly Recorded[],
  hourOf: (epochMs: number) => number,
): { readonly band: ShiftBand; readonly hours: number }[] {
  const seconds = SHIFT_BANDS.map(() => 0)
  for (const { startedAtMs, durationS } of recorded) {
    const endS = Math.min(durationS, LONGEST_S)
    for (let s = 0; s < endS; s += STEP_S) {
      const held = Math.min(STEP_S, endS - s)
      const hour = hourOf(startedAtMs + (s + held / 2) * 1000)
      const at = SHIFT_BANDS.findIndex((band) => isIn(hour, band))
      seconds[at] += held
    }
  }
  return SHIFT_BANDS.map((band, k) => ({ band, hours: seconds[k] / S_PER_HOUR }))
}
