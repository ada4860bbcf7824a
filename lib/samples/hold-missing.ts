import type { Trace } from './trace'

/** Longest run of missing cells that the last reading stands in for. */
const LONGEST_HOLD_SAMPLES = 3
const LONGEST_HOLD_S = 1

/**
 * `values` with short runs of NaN holding the reading before them; longer runs, runs at the
 * start and runs across a gap stay NaN. The cells themselves are counted by the import.
 * @returns a copy where anything is held, else the array given: a long log's readings need not be there twice
 */
export function holdMissing(
  values: Float64Array,
  trace: Pick<Trace, 'timeS' | 'sampleIntervalS'>,
): Float64Array {
  let out = values
  const hold = (reading: number, from: number, to: number) => {
    if (out === values) out = values.slice()
    out.fill(reading, from, to)
  }
  const limitS = Math.max(LONGEST_HOLD_SAMPLES * trace.sampleIntervalS, LONGEST_HOLD_S)
  for (let i = 0; i < out.length; i++) {
    if (!Number.isNaN(out[i])) continue
    let end = i
    while (end < out.length && Number.isNaN(out[end])) end++
    const heldS = trace.timeS[end - 1] - trace.timeS[i] + trace.sampleIntervalS
    const sinceReadingS = i > 0 ? trace.timeS[end - 1] - trace.timeS[i - 1] : heldS
    if (i > 0 && sinceReadingS <= limitS * (1 + 1e-9)) hold(out[i - 1], i, end)
    else if (i === 0 && end < out.length && heldS <= limitS * (1 + 1e-9)) hold(out[end], 0, end)
    i = end
  }
  return out
}
