import { type ChannelSamples, readerOf } from '@/lib/samples/samples'

/** A run this much longer than the channel's usual run of equal values is suspicious … */
const TIMES_USUAL = 50
export const SHORTEST_RUN = 100
/** … while another channel keeps changing at least this often. */
const OTHER_CHANGES = 20

export interface StuckRun {
  readonly firstRow: number
  readonly count: number
  readonly value: number
}

function changes(samples: ChannelSamples, from: number, to: number): number {
  const values = readerOf(samples)
  let count = 0
  for (let i = from + 1; i < to; i++) if (values.at(i) !== values.at(i - 1)) count++
  return count
}

/**
 * The longest stretch in which a channel that is otherwise never still repeats one value to the last
 * digit while another channel moves. Zero is left out: a flow meter at rest reads zero.
 */
export function findStuckRun(samples: ChannelSamples, others: readonly ChannelSamples[]): StuckRun | null {
  const values = readerOf(samples)
  let runs = 1
  let from = 0
  let longest: StuckRun | null = null
  let inLongRuns = 0
  for (let i = 1; i <= values.length; i++) {
    if (i < values.length && values.at(i) === values.at(i - 1)) continue
    const count = i - from
    if (count >= SHORTEST_RUN && values.at(from) !== 0) {
      inLongRuns += count
      if (longest === null || count > longest.count)
        longest = { firstRow: from, count, value: values.at(from) }
    }
    from = i
    runs++
  }
  if (longest === null) return null
  if (values.length - inLongRuns < SHORTEST_RUN) return null
  const usual = (values.length - inLongRuns) / Math.max(1, runs - 1)
  if (longest.count < usual * TIMES_USUAL || usual > 2) return null
  const { firstRow, count } = longest
  return others.some((other) => changes(other, firstRow, firstRow + count) >= OTHER_CHANGES) ? longest : null
}
