import type { Quantity } from '@/lib/contract/machine'
import type { SampleReader } from '@/lib/samples/samples'
import { MS_PER_S } from './clock'
import type { ProblemLog } from './problem-log'

/** A channel counts as slower where at most this share of its rows is filled … */
const MOST_FILLED = 0.6
/** … and at least this share of the strides between filled rows agree. */
const REGULAR = 0.8
const FEWEST = 5
/** From this share of longer strides on the two clocks are not in step. */
const UNEVEN = 0.05

/** The regular stride in rows between filled cells, or null where cells just drop out. */
function strideOf(values: Float64Array): { stride: number; uneven: boolean } | null {
  let filled = 0
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i])) filled++
  if (filled < FEWEST || filled > values.length * MOST_FILLED) return null
  const strides: number[] = []
  let last = -1
  for (let i = 0; i < values.length; i++) {
    if (Number.isNaN(values[i])) continue
    if (last >= 0 && strides.length < 100_000) strides.push(i - last)
    last = i
  }
  const sorted = strides.slice().sort((a, b) => a - b)
  const middle = sorted[sorted.length >> 1]
  const regular = strides.filter((stride) => Math.abs(stride - middle) <= 1).length
  if (middle < 2 || regular < strides.length * REGULAR) return null
  const longer = strides.filter((stride) => stride === middle + 1).length
  return { stride: middle, uneven: longer > strides.length * UNEVEN }
}

/** A change of a lead by this share of its range is one that others follow. */
const CLEAR_CHANGE = 0.05

/** Quantities that change with the machine's state in the moment. */
export const LEADING: readonly Quantity[] = ['pressure', 'current', 'power', 'signal']

/** From this share of missing values on a channel is no lead. */
export const MOST_MISSING_IN_LEAD = 0.1

/** A channel with a value in every row, whose changes show when a slower one changed. */
export interface Lead {
  readonly values: SampleReader
  /** What its values span. */
  readonly span: number
}

/** The row after `from`, up to `to`, in which a lead changes most; the one in the middle where none does clearly. */
function changeBetween(from: number, to: number, leads: readonly Lead[]): number {
  let most = CLEAR_CHANGE
  let at = from + Math.ceil((to - from) / 2)
  for (const { values, span } of leads) {
    for (let i = from + 1; i <= to; i++) {
      const change = Math.abs(values.at(i) - values.at(i - 1)) / span
      // False beside a missing value too.
      if (!(change > most)) continue
      most = change
      at = i
    }
  }
  return at
}

/**
 * Channels logged at a slower rate leave most cells empty: a reading holds for that channel's own interval and no
 * longer. Where another reading follows, the change between the two lies where the quicker channels show it: held on
 * until its next reading, a flow would run on over a pressure that has risen because it stopped. In place.
 * @returns how many cells were filled in this way
 */
export function holdSlowerChannel(
  values: Float64Array,
  timeS: Float64Array,
  leads: readonly Lead[],
  column: string,
  problems: ProblemLog,
): number {
  const rate = strideOf(values)
  if (rate === null) return 0
  const { stride, uneven } = rate
  const steps: number[] = []
  let last = -1
  for (let i = 0; i < values.length && steps.length < 10_000; i++) {
    if (Number.isNaN(values[i])) continue
    if (last >= 0) steps.push(timeS[i] - timeS[last])
    last = i
  }
  const intervalS = steps.sort((a, b) => a - b)[steps.length >> 1]
  const reach = uneven ? intervalS * (1 + 1 / stride) : intervalS
  let filled = 0
  let changes = 0
  const fill = (row: number, next: number): void => {
    const isFollowed = next < values.length && timeS[next] - timeS[row] < reach + 1e-9
    const changeAt = isFollowed ? changeBetween(row, next, leads) : next
    if (isFollowed && values[next] !== values[row]) changes++
    for (let k = row + 1; k < next && timeS[k] < timeS[row] + reach - 1e-9; k++) {
      values[k] = values[k < changeAt ? row : next]
      filled++
    }
  }
  last = -1
  for (let i = 0; i <= values.length; i++) {
    if (i < values.length && Number.isNaN(values[i])) continue
    if (last >= 0 && i - last > 1) fill(last, i)
    last = i
  }
  const rounded = Math.round(intervalS * MS_PER_S) / MS_PER_S
  problems.add('slower-channel', {
    column,
    count: filled,
    values: { intervalS: rounded, rowsPerValue: stride, changes },
  })
  return filled
}
