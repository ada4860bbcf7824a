import type { SampleChunk } from '@/db/queries/sample-chunks'
import type { StoredChannel } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import type { ImportReport, ReadLog } from '@/lib/import/report'
import { decodeChunk } from '@/lib/samples/codec'
import { heldTimes } from '@/lib/samples/timeline'
import { TIME_CHANNEL } from './channel-names'
import { openPacked } from './packed-chunk'

/** A log as the database holds it, enough to analyse it again without its file. */
export interface StoredLog {
  readonly startedAtMs: number | null
  readonly sampleCount: number
  readonly channels: readonly StoredChannel[]
  readonly report: ImportReport
  /** Chunks of time and every logged channel, in order. */
  readonly chunks: readonly SampleChunk[]
}

/**
 * Joins the chunks of one channel.
 * @throws TankwardError `samples-missing` where they do not make up the recording
 */
function join(stored: StoredLog, channel: string): Float64Array {
  const values = new Float64Array(stored.sampleCount)
  let at = 0
  for (const chunk of stored.chunks) {
    if (chunk.channel !== channel) continue
    const part = decodeChunk(openPacked(chunk.bytes))
    if (chunk.firstSample !== at || part.length !== chunk.sampleCount || at + part.length > values.length)
      throw new TankwardError('samples-missing', { channel, expected: at, actual: chunk.firstSample })
    values.set(part, at)
    at += part.length
  }
  if (at !== values.length)
    throw new TankwardError('samples-missing', { channel, expected: values.length, actual: at })
  return values
}

/** The log as it was read from its file, to the last bit. */
export function unpackLog(stored: StoredLog): ReadLog {
  return {
    report: stored.report,
    trace: {
      // How long samples hold and where gaps are follows from their times alone.
      ...heldTimes(join(stored, TIME_CHANNEL)),
      channels: stored.channels.map(({ name, ...channel }) => ({ ...channel, values: join(stored, name) })),
      startedAtMs: stored.startedAtMs,
    },
  }
}
