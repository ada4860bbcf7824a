import type { Trace } from './trace'

/** Longest run of missing cells that the last reading stands in for. */
const LONGEST_HOLD_SAMPLES = 3
const LONGEST_HOLD_S = 1

/**
 * A copy of `values` in which short runs of NaN hold the reading before them; longer runs, runs at the
 * start and runs across a gap stay NaN. The cells themselves are counted by the import.
 */
export function holdMissing(
  values: Float64Array,
  trace: Pick<Trace, 'timeS' | 'sampleIntervalS'>,
): Float64Array {
  const out = values.slice()
  const limitS = Math.max(LONGEST_HOLD_SAMPLES * trace.sampleIntervalS, LONGEST_HOLD_S)
  for (let i = 0; i < out.length; i++) {
    if (!Number.isNaN(out[i])) continue
    let end = i
    while (end < out.length && Number.isNaN(out[end])) end++
    const heldS = trace.timeS[end - 1] - trace.timeS[i] + trace.sampleIntervalS
    const sinceReadingS = i > 0 ? trace.timeS[end - 1] - trace.timeS[i - 1] : heldS
    if (i > 0 && sinceReadingS <= limitS * (1 + 1e-9)) out.fill(out[i - 1], i, end)
    else if (i === 0 && end < out.length && heldS <= limitS * (1 + 1e-9)) out.fill(out[end], 0, end)
    i = end
  }
  return out
}
