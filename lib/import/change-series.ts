import type { Quantity } from '@/lib/contract/machine'
import type { FullChannel, FullTrace } from '@/lib/samples/trace'
import { rangeOf } from './column-range'

/** Quantities that follow the machine's state in the moment; a meter of flow may lag, so it is asked last. */
const PROMPT: readonly Quantity[] = ['power', 'current', 'pressure', 'signal', 'speed']
const LAGGING: readonly Quantity[] = ['flow']
const MOST_CHANNELS = 2
/** A step longer than this many intervals is a gap: nothing is known between its ends. */
const GAP_INTERVALS = 2.5
/** Most of a channel must be there. */
const MOST_MISSING = 0.5

/** A logger's readings where they lie in time: of the first logger's clock, before any shift. */
export interface PlacedTrace {
  readonly trace: FullTrace
  readonly startS: number
}

/** The channels of a logger that tell best when the machine changed. */
export function telling({ trace }: PlacedTrace): FullChannel[] {
  const usable = trace.channels.filter(({ values, location }) => {
    if (location === 'tank-line' || location === 'case-drain') return false
    const { low, high, count } = rangeOf(values)
    const missing = values.reduce((sum, value) => sum + (Number.isNaN(value) ? 1 : 0), 0)
    return count > 0 && high > low && missing < values.length * MOST_MISSING
  })
  const of = (quantities: readonly Quantity[]): FullChannel[] =>
    quantities.flatMap((quantity) => usable.filter((channel) => channel.quantity === quantity))
  const prompt = of(PROMPT)
  return (prompt.length > 0 ? prompt : of(LAGGING)).slice(0, MOST_CHANNELS)
}

/** Values at `fromS + i·stepS`, on a straight line between readings; NaN in gaps and outside. */
function resampled(
  { trace, startS }: PlacedTrace,
  values: Float64Array,
  fromS: number,
  stepS: number,
  count: number,
): Float64Array {
  const { timeS, sampleIntervalS } = trace
  const longest = sampleIntervalS * GAP_INTERVALS
  const out = new Float64Array(count).fill(Number.NaN)
  let low = 0
  let high = timeS.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (timeS[middle] + startS <= fromS) low = middle + 1
    else high = middle
  }
  let before = low - 1
  let last = before
  while (last >= 0 && Number.isNaN(values[last])) last--
  for (let i = 0; i < count; i++) {
    const wanted = fromS + i * stepS - startS
    while (before + 1 < timeS.length && timeS[before + 1] <= wanted) {
      before++
      if (!Number.isNaN(values[before])) last = before
    }
    let next = before + 1
    while (next < timeS.length && Number.isNaN(values[next]) && timeS[next] - wanted < longest) next++
    if (last < 0 || next >= timeS.length || timeS[next] - timeS[last] > longest) continue
    const share = (wanted - timeS[last]) / (timeS[next] - timeS[last])
    out[i] = values[last] + share * (values[next] - values[last])
  }
  return out
}

/**
 * How much a channel changes over `spanSteps` steps around each, as a share of its range, no change counting for
 * more than the whole of it; then the same without its sign. Both about their means, 0 where nothing is known.
 */
export function changesOf(
  placed: PlacedTrace,
  channel: FullChannel,
  grid: {
    readonly fromS: number
    readonly stepS: number
    readonly count: number
    readonly spanSteps: number
  },
): Float64Array[] {
  const { fromS, stepS, count, spanSteps } = grid
  const { low, high } = rangeOf(channel.values)
  const firstS = fromS - (spanSteps / 2) * stepS
  const values = resampled(placed, channel.values, firstS, stepS, count + spanSteps)
  const signed = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const change = (values[i + spanSteps] - values[i]) / (high - low)
    signed[i] = Math.max(-1, Math.min(1, change))
  }
  return [centred(signed), centred(signed.map(Math.abs))]
}

function centred(values: Float64Array): Float64Array {
  let sum = 0
  let known = 0
  for (const value of values) {
    if (Number.isNaN(value)) continue
    sum += value
    known++
  }
  const mean = known === 0 ? 0 : sum / known
  return values.map((value) => (Number.isNaN(value) ? 0 : value - mean))
}
