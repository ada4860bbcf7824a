import type { LeftOut } from './calendar'

/** A recording as far as overlaps go. */
export interface OverlapLog {
  readonly id: string
  readonly importedMs: number
  /** Null without a date. */
  readonly startedMs: number | null
  readonly endedMs: number | null
}

/**
 * Time of a recording that another one of the same machine accounts for. Of two that overlap the one imported later
 * counts, and of two imported at once the one with the later id: a person who sends a better file means it.
 */
export function leftOutOf(log: OverlapLog, others: readonly OverlapLog[]): LeftOut[] {
  const { startedMs, endedMs } = log
  if (startedMs === null || endedMs === null) return []
  const wins = (one: OverlapLog) =>
    one.importedMs > log.importedMs || (one.importedMs === log.importedMs && one.id > log.id)
  return others
    .filter((one) => one.id !== log.id && wins(one))
    .flatMap(({ startedMs: from, endedMs: to }) =>
      from !== null && to !== null && from < endedMs && to > startedMs
        ? [{ fromMs: Math.max(from, startedMs), toMs: Math.min(to, endedMs) }]
        : [],
    )
    .sort((a, b) => a.fromMs - b.fromMs || a.toMs - b.toMs)
}
