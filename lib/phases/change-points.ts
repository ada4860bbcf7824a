/** A channel to watch: its samples and the standard deviation of their noise. */
export interface WatchedChannel {
  readonly values: Float64Array
  readonly sd: number
}

/** Drift allowed before evidence gathers, and evidence that makes a change, in standard deviations. */
const SLACK = 0.75
const ALARM = 6
/** The running mean forgets beyond this many samples, so that slow drift makes no change. */
const MEMORY = 200

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
  const mean = new Float64Array(width)
  const steady = new Float64Array(width)
  const seen = new Float64Array(width)
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
    if (seen[c] < MEMORY) seen[c]++
    mean[c] = seen[c] === 1 ? value : mean[c] + (value - mean[c]) / seen[c]
  }

  /** First sample from `from` to `at` from which on the channel lies nearer its new level than its old one. */
  const locate = (c: number, from: number, at: number) => {
    const values = channels[c].values
    let sum = values[at]
    let first = at
    for (let j = at - 1; j >= from; j--) {
      if (Number.isNaN(values[j])) continue
      const level = sum / (at - j)
      if (Math.abs(values[j] - level) > Math.abs(values[j] - steady[c])) break
      first = j
      sum += values[j]
    }
    return first
  }

  for (let i = 0; i < count; i++) {
    if (i === 0 || breaks[i]) begin(i)
    let changeAt = -1
    for (let c = 0; c < width; c++) {
      const value = channels[c].values[i]
      if (Number.isNaN(value)) continue
      if (seen[c] === 0) {
        learn(c, value)
        continue
      }
      if (up[c] === 0 && down[c] === 0) steady[c] = mean[c]
      if (up[c] === 0) upFrom[c] = i
      if (down[c] === 0) downFrom[c] = i
      const z = (value - mean[c]) / (channels[c].sd * Math.sqrt(1 + 1 / seen[c]))
      up[c] = Math.max(0, up[c] + z - SLACK)
      down[c] = Math.max(0, down[c] - z - SLACK)
      if (up[c] > ALARM || down[c] > ALARM) {
        const at = locate(c, up[c] > ALARM ? upFrom[c] : downFrom[c], i)
        changeAt = changeAt < 0 ? at : Math.min(changeAt, at)
      }
      learn(c, value)
    }
    if (changeAt < 0) continue
    const from = Math.max(changeAt, starts[found - 1] + 1)
    begin(from)
    // The samples since the change belong to the new stretch: its means start from them.
    for (let j = from; j <= i; j++) {
      for (let c = 0; c < width; c++) {
        if (!Number.isNaN(channels[c].values[j])) learn(c, channels[c].values[j])
      }
    }
  }
  return starts.slice(0, found)
}
