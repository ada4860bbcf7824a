import { readerOf } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'
import type { Span } from './task'

/** When a recording was made and how long it is: last sample − first, plus one interval. */
export function spanOf(trace: Trace): Span {
  const sampleCount = trace.timeS.length
  const lastS = sampleCount === 0 ? 0 : readerOf(trace.timeS).at(sampleCount - 1)
  return {
    startedAtMs: trace.startedAtMs,
    durationS: sampleCount === 0 ? 0 : lastS + trace.sampleIntervalS,
    sampleIntervalS: trace.sampleIntervalS,
    sampleCount,
  }
}
