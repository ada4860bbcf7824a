import type { Trial } from '@/lib/contract/proof'
import { meanOf } from '@/lib/numeric/mean'
import type { CycleColumns } from './evidence'

/** A level must move by so many standard deviations of the difference of means, and by this share of the highest pressure. */
const LEAST_DEVIATIONS = 4
const LEAST_SHARE = 0.02
/** Whole cycles that a change seen elsewhere may lie from the moment given. */
const NEAR_CYCLES = 1

const squaresOf = (values: readonly number[]) => {
  const mean = meanOf(values)
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
}

interface Shift {
  readonly level: 'idle' | 'highest'
  /** The cycle, by index, that is the first of the new level. */
  readonly at: number
  readonly beforePa: number
  readonly afterPa: number
  readonly share: number
}

const LEVELS = [
  ['idle', 'idlePa'],
  ['highest', 'highestPa'],
] as const

function shiftAt(
  values: readonly (number | null)[],
  at: number,
  highestPa: number,
): Omit<Shift, 'level'> | null {
  const known = (part: readonly (number | null)[]) => part.filter((value) => value !== null)
  const [before, after] = [known(values.slice(0, at)), known(values.slice(at))]
  if (before.length < 2 || after.length < 2) return null
  const [beforePa, afterPa] = [meanOf(before), meanOf(after)]
  const variance = (squaresOf(before) + squaresOf(after)) / (before.length + after.length - 2)
  const sd = Math.sqrt(variance * (1 / before.length + 1 / after.length))
  const moved = Math.abs(afterPa - beforePa)
  const share = moved / highestPa
  if (share < LEAST_SHARE || moved < LEAST_DEVIATIONS * sd) return null
  return { at, beforePa, afterPa, share }
}

/**
 * The pressure level of cycles that moved most between two neighbours, if any did: at the moment given (`at` is the first
 * cycle behind it), and anywhere among the cycles, by least squares of a step.
 */
export function levelShifts(
  cycles: Pick<CycleColumns, 'idlePa' | 'highestPa'>,
  at: number,
): { readonly here: Trial['levelChange']; readonly elsewhere: number | null } {
  const highestPa = Math.max(0, ...cycles.highestPa.map((value) => value ?? 0))
  const shifts: Shift[] = []
  let best: { at: number; gain: number } | null = null
  for (const [level, column] of LEVELS) {
    const values = cycles[column]
    const here = shiftAt(values, at, highestPa)
    if (here) shifts.push({ level, ...here })
    const known = values.map((value) => value ?? Number.NaN)
    if (known.some(Number.isNaN)) continue
    const whole = squaresOf(known)
    for (let k = 2; k <= known.length - 2; k++) {
      if (!shiftAt(values, k, highestPa)) continue
      const gain = (whole - squaresOf(known.slice(0, k)) - squaresOf(known.slice(k))) / highestPa ** 2
      if (!best || gain > best.gain) best = { at: k, gain }
    }
  }
  const [most] = shifts.sort((a, b) => b.share - a.share)
  const isFar = best !== null && Math.abs(best.at - at) > NEAR_CYCLES
  return {
    here: most ? { level: most.level, beforePa: most.beforePa, afterPa: most.afterPa } : null,
    elsewhere: best && isFar ? best.at : null,
  }
}
