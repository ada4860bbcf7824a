import { noiseSd } from '@/lib/numeric/noise'
import type { LoadZero } from './load-zeros'
import { readerOf } from './samples'
import type { Sensor } from './sensors'

/** Excess of another sensor over the highest that is noise, and what it must add up to, in sds of their difference. */
const ALLOWED_SD = 0.5
const DECIDED_SD = 8
/** Noise is no larger than this share of a sensor's limit: in a slow log what loads do would pass for it. */
const MOST_NOISE_SHARE = 0.25

/**
 * The highest of several load pressures, sample by sample, on their common zero. The largest of equal noisy readings
 * lies above all of them on average (by 0.56 sd for two), so one sensor is read until another has been above it by
 * more than noise: its excess adds up (one-sided cumulative sum) until it decides. A load that
 * rises decides at its first sample; without noise this is the plain maximum. A missing reading leaves the others.
 */
export function highestLoad(loads: readonly Sensor[], zeros: readonly LoadZero[]): Sensor {
  const count = loads[0].values.length
  const variances = loads.map(
    ({ values, limit }) => Math.min(noiseSd(readerOf(values)), MOST_NOISE_SHARE * limit) ** 2,
  )
  const sds = variances.map((one) => variances.map((other) => Math.sqrt(one + other)))
  const readers = loads.map(({ values }) => readerOf(values))
  const at = (k: number, i: number) => readers[k].at(i) - zeros[k].offsetPa
  const excesses = new Float64Array(loads.length)
  const values = new Float64Array(count)
  let read = -1
  const highestAt = (i: number) => {
    let best = -1
    for (let k = 0; k < loads.length; k++) {
      if (!Number.isNaN(at(k, i)) && (best < 0 || at(k, i) > at(best, i))) best = k
    }
    return best
  }
  for (let i = 0; i < count; i++) {
    let next = read
    if (read < 0 || Number.isNaN(at(read, i))) next = highestAt(i)
    else {
      for (let k = 0; k < loads.length; k++) {
        const over = at(k, i) - at(read, i)
        if (k === read || Number.isNaN(over)) continue
        const sd = sds[read][k]
        excesses[k] = Math.max(0, excesses[k] + over - ALLOWED_SD * sd)
        if (excesses[k] > DECIDED_SD * sd && (next === read || at(k, i) > at(next, i))) next = k
      }
    }
    if (next !== read) {
      excesses.fill(0)
      read = next
    }
    values[i] = read < 0 ? Number.NaN : at(read, i)
  }
  return {
    column: loads.map(({ column }) => column).join(', '),
    values,
    limit: Math.max(...loads.map(({ limit }) => limit)),
  }
}
