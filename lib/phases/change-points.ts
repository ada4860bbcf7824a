import { READ_AT_ONCE, type SampleReader } from '@/lib/samples/samples'

/** A channel to watch: its samples and the standard deviation of their noise. */
export interface WatchedChannel {
  readonly values: SampleReader
  readonly sd: number
}

/** Drift allowed before evidence gathers, and evidence that makes a change, in standard deviations. */
const SLACK = 0.75
const ALARM = 6
/** The running mean forgets beyond this many samples, so that slow drift makes no change. */
const MEMORY = 200
/** One over the standard error of a difference between a sample and a mean of so many, in standard deviations. */
const SHARPNESS = Float64Array.from({ length: MEMORY + 1 }, (_, seen) => 1 / Math.sqrt(1 + 1 / seen))
/** Samples that one channel runs ahead of the others. */
const AHEAD = 32
const INVERSE = Float64Array.from({ length: MEMORY + 1 }, (_, seen) => 1 / seen)

/** What is known of every channel at the sample that is next. */
class Evidence {
  /** Running means of the samples since the last change, and how many those are. */
  readonly mean: Float64Array
  readonly seen: Int32Array
  /** The means when evidence last began to gather. */
  readonly steady: Float64Array
  /** Evidence of a rise and of a fall, and the samples where it began. */
  readonly up: Float64Array
  readonly down: Float64Array
  readonly upFrom: Int32Array
  readonly downFrom: Int32Array
  private readonly perSd: Float64Array

  constructor(channels: readonly WatchedChannel[]) {
    const width = channels.length
    this.perSd = Float64Array.from(channels, (channel) => 1 / channel.sd)
    this.mean = new Float64Array(width)
    this.seen = new Int32Array(width)
    this.steady = new Float64Array(width)
    this.up = new Float64Array(width)
    this.down = new Float64Array(width)
    this.upFrom = new Int32Array(width)
    this.downFrom = new Int32Array(width)
  }

  /** Nothing is known of a stretch that begins at this sample. */
  begin(at: number): void {
    this.seen.fill(0)
    this.up.fill(0)
    this.down.fill(0)
    this.upFrom.fill(at)
    this.downFrom.fill(at)
  }

  /** Adds a sample of channel `c` to its mean alone. */
  learn(c: number, value: number): void {
    const { seen, mean } = this
    const n = seen[c] < MEMORY ? ++seen[c] : MEMORY
    mean[c] = n === 1 ? value : mean[c] + (value - mean[c]) * INVERSE[n]
  }

  /**
   * Follows channel `c` over samples [from, to) of a block that begins at sample `blockAt`; the first at which it has seen a
   * change, or `to`. What it holds beyond another channel's change is forgotten there, so that each may run ahead of the others.
   */
  follow(c: number, block: Float64Array, blockAt: number, from: number, to: number): number {
    const perNoise = this.perSd[c]
    // All of it beside the processor while the samples pass: a long log has tens of millions of them.
    let n = this.seen[c]
    let old = this.mean[c]
    let rises = this.up[c]
    let falls = this.down[c]
    let steady = this.steady[c]
    let upFrom = this.upFrom[c]
    let downFrom = this.downFrom[c]
    let i = from
    for (; i < to; i++) {
      const value = block[i - blockAt]
      if (Number.isNaN(value)) continue
      if (n === 0) {
        old = value
        n = 1
        continue
      }
      const z = (value - old) * perNoise * SHARPNESS[n]
      if (rises === 0) {
        if (falls === 0) steady = old
        upFrom = i
      }
      if (falls === 0) downFrom = i
      rises = rises + z - SLACK
      falls = falls - z - SLACK
      if (rises > ALARM || falls > ALARM) break
      if (rises < 0) rises = 0
      if (falls < 0) falls = 0
      if (n < MEMORY) n++
      old += (value - old) * INVERSE[n]
    }
    this.seen[c] = n
    this.mean[c] = old
    this.up[c] = rises
    this.down[c] = falls
    this.steady[c] = steady
    this.upFrom[c] = upFrom
    this.downFrom[c] = downFrom
    return i
  }
}

/** First sample from `from` to `at` from which on a channel lies nearer its new level than its old one. */
function locate(values: SampleReader, steady: number, from: number, at: number): number {
  let sum = values.at(at)
  let first = at
  for (let j = at - 1; j >= from; j--) {
    const value = values.at(j)
    if (Number.isNaN(value)) continue
    const level = sum / (at - j)
    if (Math.abs(value - level) > Math.abs(value - steady)) break
    first = j
    sum += value
  }
  return first
}

/**
 * Starts of stretches with steady means, by two-sided cumulative sums over every channel (Page's test):
 * linear in the samples, and a change is placed where the evidence began, not where it was complete.
 * `breaks[i]` is 1 where sample i follows a gap and must start a stretch. NaN samples carry no evidence.
 * Returns rising sample indices, the first is 0.
 */
export function changePoints(channels: readonly WatchedChannel[], breaks: Uint8Array): Int32Array {
  const count = breaks.length
  const starts = new Int32Array(count)
  let found = 0
  const width = channels.length
  const readings = channels.map((channel) => channel.values)
  /** Every channel's samples [blockAt, blockEnd). */
  let blocks: Float64Array[] = []
  let blockAt = 0
  let blockEnd = 0
  const evidence = new Evidence(channels)
  const begin = (at: number) => {
    starts[found++] = at
    evidence.begin(at)
  }

  for (let next = 0; next < count; ) {
    if (next === 0 || breaks[next] === 1) begin(next)
    if (next >= blockEnd) {
      blockAt = next
      blockEnd = Math.min(next + READ_AT_ONCE, count)
      blocks = readings.map((values) => values.between(blockAt, blockEnd))
    }
    const most = Math.min(next + AHEAD, blockEnd)
    let end = next + 1
    while (end < most && breaks[end] === 0) end++
    // The earliest change of any channel; of two at the same sample the one that began first.
    let at = end
    let changeAt = -1
    for (let c = 0; c < width; c++) {
      const stops = evidence.follow(c, blocks[c], blockAt, next, Math.min(at + 1, end))
      if (stops > at || stops === end) continue
      const { up, upFrom, downFrom, steady } = evidence
      const began = locate(readings[c], steady[c], up[c] > ALARM ? upFrom[c] : downFrom[c], stops)
      changeAt = stops < at || changeAt < 0 ? began : Math.min(changeAt, began)
      at = stops
    }
    next = at
    if (changeAt < 0) continue
    const from = Math.max(changeAt, starts[found - 1] + 1)
    begin(from)
    // The samples since the change belong to the new stretch: its means start from them.
    for (let c = 0; c < width; c++) {
      const values = readings[c]
      for (let j = from; j <= at; j++) {
        const value = values.at(j)
        if (!Number.isNaN(value)) evidence.learn(c, value)
      }
    }
    next = at + 1
  }
  return starts.slice(0, found)
}
