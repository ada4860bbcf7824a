import type { Phase } from '@/lib/contract/result'

/** Median distance of the true boundaries to the nearest found one, s. */
export function boundaryErrorS(found: readonly Phase[], truth: readonly Phase[]): number {
  let at = 0
  const errors = truth.slice(1).map(({ startS }) => {
    while (
      at + 1 < found.length &&
      Math.abs(found[at + 1].startS - startS) <= Math.abs(found[at].startS - startS)
    )
      at += 1
    return Math.abs(found[at].startS - startS)
  })
  errors.sort((a, b) => a - b)
  return errors[errors.length >> 1] ?? 0
}

/** Groups of working phases with the idle that follows, cut neither by a gap nor by an end of the log. */
export function trueCycles(truth: readonly Phase[]): number {
  const joined = (k: number) => k > 0 && k < truth.length && truth[k].startS - truth[k - 1].endS < 1e-6
  let count = 0
  for (let k = 0; k < truth.length; k += 1) {
    if (!truth[k].kind.startsWith('work')) continue
    const opens = joined(k)
    while (joined(k + 1) && truth[k + 1].kind.startsWith('work')) k += 1
    while (joined(k + 1) && truth[k + 1].kind.startsWith('idle')) k += 1
    if (opens && joined(k + 1)) count += 1
  }
  return count
}
