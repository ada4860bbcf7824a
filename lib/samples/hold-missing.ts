import { type ChannelSamples, copyOf, readerOf, repeatReading } from './samples'
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
  values: ChannelSamples,
  trace: Pick<Trace, 'timeS' | 'sampleIntervalS'>,
): ChannelSamples {
  const read = readerOf(values)
  const first = read.firstMissing()
  if (first === read.length) return values
  const timeS = readerOf(trace.timeS)
  let out = values
  const hold = (source: number, from: number, to: number) => {
    if (out === values) out = copyOf(values)
    repeatReading(out, source, from, to)
  }
  const limitS = Math.max(LONGEST_HOLD_SAMPLES * trace.sampleIntervalS, LONGEST_HOLD_S)
  for (let i = first; i < read.length; i++) {
    if (!Number.isNaN(read.at(i))) continue
    let end = i
    while (end < read.length && Number.isNaN(read.at(end))) end++
    const heldS = timeS.at(end - 1) - timeS.at(i) + trace.sampleIntervalS
    const sinceReadingS = i > 0 ? timeS.at(end - 1) - timeS.at(i - 1) : heldS
    if (i > 0 && sinceReadingS <= limitS * (1 + 1e-9)) hold(i - 1, i, end)
    else if (i === 0 && end < read.length && heldS <= limitS * (1 + 1e-9)) hold(end, 0, end)
    i = end
  }
  return out
}
