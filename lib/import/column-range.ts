import { type ChannelSamples, readerOf } from '@/lib/samples/samples'

/** What a column's values span, without its outliers. */
export interface ColumnRange {
  readonly low: number
  readonly middle: number
  readonly high: number
  readonly mean: number
  readonly count: number
}

const SAMPLE = 20_000

/** Range at the 1st, 50th and 99th percentile of an even sample of the values that are numbers. */
export function rangeOf(samples: ChannelSamples): ColumnRange {
  const values = readerOf(samples)
  const step = Math.max(1, Math.floor(values.length / SAMPLE))
  const taken = new Float64Array(Math.ceil(values.length / step))
  let count = 0
  let sum = 0
  for (let i = 0; i < values.length; i += step) {
    const value = values.at(i)
    if (Number.isNaN(value)) continue
    sum += value
    taken[count++] = value
  }
  const sorted = taken.subarray(0, count).sort()
  const at = (share: number): number => sorted[Math.min(count - 1, Math.floor(share * count))]
  return { low: at(0.01), middle: at(0.5), high: at(0.99), mean: sum / count, count }
}
