import type { Accuracy, Location, Quantity } from '@/lib/contract/machine'
import type { Unit } from '@/lib/units'
import { type ChannelSamples, inFull, type Samples } from './samples'

/** One logged channel in SI units; NaN where the cell was missing or unreadable. */
export interface Channel {
  /** Trimmed header cell. */
  readonly column: string
  readonly quantity: Quantity
  readonly location: Location
  /** Unit of the logged value after `scale`; `values` themselves are SI. */
  readonly unit: Unit
  readonly accuracy: Accuracy | null
  readonly values: ChannelSamples
}

/** A stretch without samples: `startS` is where the last held sample ends, `endS` the next sample's time. */
export interface Gap {
  readonly startS: number
  readonly endS: number
}

/** Struct of arrays: what one recording says, in SI, in rising time. */
export interface Trace {
  /** Elapsed seconds from the first sample, strictly rising, gaps included. */
  readonly timeS: Samples
  /** How long each sample holds: until the next one, or one interval before a gap and at the end. */
  readonly holdS: Samples
  readonly channels: readonly Channel[]
  /** Instant of the first sample in epoch ms, or null where the log has no date. */
  readonly startedAtMs: number | null
  readonly sampleIntervalS: number
  readonly gaps: readonly Gap[]
}

/** A channel, and a trace, with every number in an array. */
export interface FullChannel extends Channel {
  readonly values: Float64Array
}

export interface FullTrace extends Trace {
  readonly timeS: Float64Array
  readonly holdS: Float64Array
  readonly channels: readonly FullChannel[]
}

export const traceInFull = (trace: Trace): FullTrace => ({
  ...trace,
  timeS: inFull(trace.timeS),
  holdS: inFull(trace.holdS),
  channels: trace.channels.map((channel) => ({ ...channel, values: inFull(channel.values) })),
})
