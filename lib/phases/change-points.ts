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
  const perSd = Float64Array.from(channels, (channel) => 1 / channel.sd)
  const mean = new Float64Array(width)
  const steady = new Float64Array(width)
  const seen = new Int32Array(width)
  const up = new Float64Array(width)
  const down = new Float64Array(width)
  const upFrom = new Int32Array(width)
  const downFrom = new Int32Array(width)

  const begin = (at: number) => {
    starts[found++] = at
    seen.fill(0)
    up.fill(0)
    down.fill(0)
    upFrom.fill(at)
    downFrom.fill(at)
  }
  const learn = (c: number, value: number) => {
    const n = seen[c] < MEMORY ? ++seen[c] : MEMORY
    mean[c] = n === 1 ? value : mean[c] + (value - mean[c]) * INVERSE[n]
  }

  /** First sample from `from` to `at` from which on the channel lies nearer its new level than its old one. */
  const locate = (c: number, from: number, at: number) => {
    const values = readings[c]
    let sum = values.at(at)
    let first = at
    for (let j = at - 1; j >= from; j--) {
      const value = values.at(j)
      if (Number.isNaN(value)) continue
      const level = sum / (at - j)
      if (Math.abs(value - level) > Math.abs(value - steady[c])) break
      first = j
      sum += value
    }
    return first
  }

  /**
   * Follows one channel over samples [from, to); the first at which it has seen a change, or `to`. What it holds
   * beyond another channel's change is forgotten there, so that each channel may run ahead of the others.
   */
  const follow = (c: number, from: number, to: number) => {
    const values = blocks[c]
    const first = blockAt
    const perNoise = perSd[c]
    let n = seen[c]
    let old = mean[c]
    let rises = up[c]
    let falls = down[c]
    let i = from
    for (; i < to; i++) {
      const value = values[i - first]
      if (Number.isNaN(value)) continue
      if (n === 0) {
        old = value
        n = 1
        continue
      }
      const z = (value - old) * perNoise * SHARPNESS[n]
      if (rises === 0) {
        if (falls === 0) steady[c] = old
        upFrom[c] = i
      }
      if (falls === 0) downFrom[c] = i
      const risen = rises + z - SLACK
      const fallen = falls - z - SLACK
      rises = Math.max(risen, 0)
      falls = Math.max(fallen, 0)
      if (risen > ALARM || fallen > ALARM) break
      if (n < MEMORY) n++
      old += (value - old) * INVERSE[n]
    }
    seen[c] = n
    mean[c] = old
    up[c] = rises
    down[c] = falls
    return i
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
      const stops = follow(c, next, Math.min(at + 1, end))
      if (stops > at || stops === end) continue
      const began = locate(c, up[c] > ALARM ? upFrom[c] : downFrom[c], stops)
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
        if (!Number.isNaN(value)) learn(c, value)
      }
    }
    next = at + 1
  }
  return starts.slice(0, found)
}
