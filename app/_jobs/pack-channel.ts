import { constants, gzipSync } from 'node:zlib'
import type { EnvelopeChunk } from '@/db/queries/envelope-chunks'
import type { SampleChunk } from '@/db/queries/sample-chunks'
import { CHUNK_SAMPLES, encodeChunk } from '@/lib/samples/codec'
import { buildEnvelope, type Cells, CHUNK_CELLS } from '@/lib/samples/envelope'
import { encodeCells } from '@/lib/samples/envelope-codec'
import type { Unit } from '@/lib/units'

export interface PackedChannels {
  readonly samples: SampleChunk[]
  readonly envelope: EnvelopeChunk[]
}

/** Packed bytes in a buffer of their own, so that a worker can hand them over without copying. */
const pack = (bytes: Uint8Array): Uint8Array<ArrayBuffer> =>
  new Uint8Array(gzipSync(bytes, { level: constants.Z_BEST_SPEED }))

const cut = (cells: Cells, from: number): Cells => ({
  min: cells.min.subarray(from, from + CHUNK_CELLS),
  max: cells.max.subarray(from, from + CHUNK_CELLS),
  mean: cells.mean.subarray(from, from + CHUNK_CELLS),
  valid: cells.valid.subarray(from, from + CHUNK_CELLS),
})

/** One channel as rows to store: its samples and every level of its envelope. */
export function packChannel(
  into: PackedChannels,
  channel: string,
  unit: Unit,
  values: Float64Array,
  timeS: Float64Array,
): void {
  for (let from = 0; from < values.length; from += CHUNK_SAMPLES) {
    const part = values.subarray(from, from + CHUNK_SAMPLES)
    into.samples.push({
      channel,
      seq: from / CHUNK_SAMPLES,
      firstSample: from,
      sampleCount: part.length,
      startS: timeS[from],
      bytes: pack(encodeChunk(part, unit)),
    })
  }
  buildEnvelope(values).forEach((cells, index) => {
    for (let from = 0; from < cells.min.length; from += CHUNK_CELLS) {
      const bytes = pack(encodeCells(cut(cells, from), unit))
      into.envelope.push({ channel, level: index + 1, seq: from / CHUNK_CELLS, bytes })
    }
  })
}
