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
export function rangeOf(values: Float64Array): ColumnRange {
  const step = Math.max(1, Math.floor(values.length / SAMPLE))
  const taken: number[] = []
  for (let i = 0; i < values.length; i += step) if (!Number.isNaN(values[i])) taken.push(values[i])
  const sorted = Float64Array.from(taken).sort()
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]
  const mean = taken.reduce((sum, value) => sum + value, 0) / taken.length
  return { low: at(0.01), middle: at(0.5), high: at(0.99), mean, count: sorted.length }
}
