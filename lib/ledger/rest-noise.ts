import { noiseSd } from '@/lib/numeric/noise'
import type { Step } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import type { Sensor } from '@/lib/samples/sensors'

/** Samples that are looked at: a standard deviation of so many is known within a few per cent. */
const MOST_SAMPLES = 2000

/**
 * Standard deviation of one sample's noise in some steps, SI; nil without samples. Taken from differences of neighbours,
 * so that a slow drift counts for nothing.
 */
export function noiseIn(
  { values }: Pick<Sensor, 'values'>,
  steps: readonly Pick<Step, 'from' | 'to'>[],
): number {
  const readings = readerOf(values)
  const joined = new Float64Array(MOST_SAMPLES + steps.length).fill(Number.NaN)
  let count = 0
  let left = MOST_SAMPLES
  for (const { from, to } of steps) {
    if (left <= 0) break
    const run = readings.between(from, Math.min(to, from + left))
    joined.set(run, count)
    // Apart by a missing reading, no difference spans two steps.
    count += run.length + 1
    left -= run.length
  }
  return noiseSd(joined.subarray(0, Math.min(count, joined.length)))
}
