import { MS_PER_DAY, MS_PER_HOUR } from './clock'
import type { ProblemLog } from './problem-log'

/**
 * Stamps that wrap (a time of day at midnight, a stamp without its hour at each hour), unwrapped in
 * place: a step back by more than half the period is a wrap.
 */
export function unwrap(stamps: Float64Array, periodMs: number): void {
  let added = 0
  let previous = stamps[0]
  for (let i = 1; i < stamps.length; i++) {
    const raw = stamps[i]
    if (raw - previous < -periodMs / 2) added += periodMs
    else if (raw - previous > periodMs / 2 && added > 0 && raw > periodMs - periodMs / 8) {
      // A late row from before the wrap.
      stamps[i] = raw + added - periodMs
      continue
    }
    previous = raw
    stamps[i] = raw + added
  }
}

/**
 * Some loggers change the date a little after midnight: the clock shows 00:00 of the day that has
 * just ended. Such rows get the day they belong to, in place.
 */
export function mendMidnight(
  stamps: Float64Array,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): void {
  let added = 0
  let mended = 0
  let firstRow = -1
  let previous = stamps[0]
  for (let i = 1; i < stamps.length; i++) {
    const raw = stamps[i]
    const step = raw - previous
    const fellBack = step < -MS_PER_DAY + MS_PER_HOUR && step > -MS_PER_DAY
    if (added === 0 && fellBack && previous % MS_PER_DAY > MS_PER_DAY - MS_PER_HOUR) added = MS_PER_DAY
    else if (added > 0 && step > MS_PER_DAY / 2) added = 0
    previous = raw
    if (added === 0) continue
    stamps[i] = raw + added
    mended++
    if (firstRow < 0) firstRow = i
  }
  if (mended > 0) problems.add('midnight-same-day', { line: lineOf(firstRow), count: mended })
}
