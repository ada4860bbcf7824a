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

/**
 * Channels logged at a slower rate leave most cells empty: the last value holds, for that channel's
 * own interval and no longer. In place.
 * @returns how many cells were filled in this way
 */
export function holdSlowerChannel(
  values: Float64Array,
  timeS: Float64Array,
  column: string,
  problems: ProblemLog,
): number {
  const rate = strideOf(values)
  if (rate === null) return 0
  const { stride, uneven } = rate
  const steps: number[] = []
  let lastAt = -1
  for (let i = 0; i < values.length && steps.length < 10_000; i++) {
    if (Number.isNaN(values[i])) continue
    if (lastAt >= 0) steps.push(timeS[i] - timeS[lastAt])
    lastAt = i
  }
  const intervalS = steps.sort((a, b) => a - b)[steps.length >> 1]
  const reach = uneven ? intervalS * (1 + 1 / stride) : intervalS
  let held = Number.NaN
  let until = Number.NEGATIVE_INFINITY
  let filled = 0
  for (let i = 0; i < values.length; i++) {
    if (!Number.isNaN(values[i])) {
      held = values[i]
      until = timeS[i] + reach
    } else if (timeS[i] < until - 1e-9 && !Number.isNaN(held)) {
      values[i] = held
      filled++
    }
  }
  const rounded = Math.round(intervalS * MS_PER_S) / MS_PER_S
  problems.add('slower-channel', {
    column,
    count: filled,
    values: { intervalS: rounded, rowsPerValue: stride },
  })
  return filled
}
