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
/** One over the standard error of a difference between a sample and a mean of so many, in standard deviations. */
const SHARPNESS = Float64Array.from({ length: MEMORY + 1 }, (_, seen) => 1 / Math.sqrt(1 + 1 / seen))
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
    if (i === 0 || breaks[i] === 1) begin(i)
    let changeAt = -1
    for (let c = 0; c < width; c++) {
      const value = readings[c][i]
      if (Number.isNaN(value)) continue
      const n = seen[c]
      if (n === 0) {
        learn(c, value)
        continue
      }
      const old = mean[c]
      const z = (value - old) * perSd[c] * SHARPNESS[n]
      const upBefore = up[c]
      const downBefore = down[c]
      if (upBefore === 0) {
        if (downBefore === 0) {
          steady[c] = old
          // Most samples: nothing gathers, and nothing begins to.
          if (z <= SLACK && z >= -SLACK) {
            learn(c, value)
            continue
          }
        }
        upFrom[c] = i
      }
      if (downBefore === 0) downFrom[c] = i
      const rises = upBefore + z - SLACK
      const falls = downBefore - z - SLACK
      up[c] = Math.max(rises, 0)
      down[c] = Math.max(falls, 0)
      if (rises > ALARM || falls > ALARM) {
        const at = locate(c, rises > ALARM ? upFrom[c] : downFrom[c], i)
        if (changeAt < 0 || at < changeAt) changeAt = at
      }
      learn(c, value)
    }
    if (changeAt < 0) continue
    const from = Math.max(changeAt, starts[found - 1] + 1)
    begin(from)
    // The samples since the change belong to the new stretch: its means start from them.
    for (let c = 0; c < width; c++) {
      const values = readings[c]
      for (let j = from; j <= i; j++) if (!Number.isNaN(values[j])) learn(c, values[j])
    }
  }
  return starts.slice(0, found)
}
