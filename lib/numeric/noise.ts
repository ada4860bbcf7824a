import { quantile } from './quantile'
import { type Signal, valueAt } from './signal'

const MAD_TO_SD = 1.4826
const LARGEST_SAMPLE = 20_000

/**
 * Standard deviation of a signal's noise from the median absolute first difference, which steps and
 * slow drift leave alone. Uses at most 20,000 differences, evenly spread. Nil for a constant signal.
 */
export function noiseSd(values: Signal): number {
  const stride = Math.max(1, Math.floor(values.length / LARGEST_SAMPLE))
  const steps: number[] = []
  for (let i = 1; i < values.length; i += stride) {
    const step = Math.abs(valueAt(values, i) - valueAt(values, i - 1))
    if (!Number.isNaN(step)) steps.push(step)
  }
  return steps.length ? (quantile(steps, 0.5) * MAD_TO_SD) / Math.SQRT2 : 0
}
