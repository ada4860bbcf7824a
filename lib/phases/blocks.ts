import { readerOf, type SampleReader } from '@/lib/samples/samples'

/** Faster sampling than this is averaged before changes are looked for: no phase begins more sharply. */
const BLOCK_S = 0.01

/** Runs of samples that changes are looked for in; one sample each where sampling is slow. */
export interface Blocks {
  readonly count: number
  /** Samples in a whole block. */
  readonly size: number
  /** 1 where a block follows a gap. */
  readonly breaks: Uint8Array
  /** First sample of a block. */
  from(block: number): number
  /** A channel's means over the blocks; the channel itself where a block is one sample. */
  means(values: SampleReader): SampleReader
}

/** Blocks of samples, none across a gap. `breaks[i]` is 1 where sample i follows one. */
export function blocksOf(breaks: Uint8Array, sampleIntervalS: number): Blocks {
  const size = Math.floor(BLOCK_S / sampleIntervalS + 1e-6)
  if (size <= 1) {
    return { count: breaks.length, size: 1, breaks, from: (block) => block, means: (values) => values }
  }
  const starts = new Int32Array(Math.ceil(breaks.length / size) + breaks.reduce((sum, one) => sum + one, 1))
  let count = 0
  for (let i = 0; i < breaks.length; i++) {
    if (i === 0 || breaks[i] === 1 || i - starts[count - 1] === size) starts[count++] = i
  }
  starts[count] = breaks.length
  const ofBlocks = new Uint8Array(count)
  for (let b = 1; b < count; b++) ofBlocks[b] = breaks[starts[b]]
  return {
    count,
    size,
    breaks: ofBlocks,
    from: (block) => starts[block],
    means(values) {
      const out = new Float64Array(count)
      for (let b = 0; b < count; b++) {
        let sum = 0
        let present = 0
        for (let i = starts[b]; i < starts[b + 1]; i++) {
          const value = values.at(i)
          if (Number.isNaN(value)) continue
          sum += value
          present++
        }
        out[b] = sum / present
      }
      return readerOf(out)
    },
  }
}
