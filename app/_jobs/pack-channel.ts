import { CHUNK_SAMPLES, encodeChunk, encodeRounded, isLoose } from '@/lib/samples/codec'
import { type Cells, CHUNK_CELLS, envelopeBuilder } from '@/lib/samples/envelope'
import { areLoose, encodeCells } from '@/lib/samples/envelope-codec'
import { readerOf, type Samples } from '@/lib/samples/samples'
import type { Unit } from '@/lib/units'
import { closePacked } from './packed-chunk'
import type { RowBuffer } from './row-buffer'

const cut = (cells: Cells, from: number): Cells => ({
  min: cells.min.subarray(from, from + CHUNK_CELLS),
  max: cells.max.subarray(from, from + CHUNK_CELLS),
  mean: cells.mean.subarray(from, from + CHUNK_CELLS),
  valid: cells.valid.subarray(from, from + CHUNK_CELLS),
})

/** A channel's rows in the making, from samples that arrive chunk by chunk. */
export interface ChannelPacker {
  /** Takes the next CHUNK_SAMPLES samples, or the last few. */
  add(part: Float64Array): Promise<void>
  /** Adds every level of the envelope, once all samples were added. */
  finish(): Promise<void>
}

/**
 * Adds one channel's samples and envelope to the rows to store.
 * @param timeS the times of all its samples
 * @param decimals to which samples are rounded where they are added; null keeps them to the last bit
 */
export function channelPacker(
  { rows, makeRoom }: RowBuffer,
  channel: string,
  unit: Unit,
  timeS: Samples,
  decimals: number | null = null,
): ChannelPacker {
  const envelope = envelopeBuilder(timeS.length)
  const startsS = readerOf(timeS)
  let from = 0
  return {
    add: async (part) => {
      const encoded = decimals === null ? encodeChunk(part, unit) : encodeRounded(part, decimals)
      rows.samples.push({
        channel,
        seq: from / CHUNK_SAMPLES,
        firstSample: from,
        sampleCount: part.length,
        startS: startsS.at(from),
        bytes: closePacked(encoded, isLoose(encoded)),
      })
      envelope.add(part)
      from += part.length
      await makeRoom()
    },
    finish: async () => {
      for (const [index, cells] of envelope.levels().entries()) {
        for (let cell = 0; cell < cells.min.length; cell += CHUNK_CELLS) {
          const encoded = encodeCells(cut(cells, cell), unit)
          const bytes = closePacked(encoded, areLoose(encoded))
          rows.envelope.push({ channel, level: index + 1, seq: cell / CHUNK_CELLS, bytes })
          await makeRoom()
        }
      }
    },
  }
}

/** One channel as rows to store: its samples and every level of its envelope. */
export async function packChannel(
  buffer: RowBuffer,
  channel: string,
  unit: Unit,
  values: Samples,
  timeS: Samples,
): Promise<void> {
  const packer = channelPacker(buffer, channel, unit, timeS)
  const samples = readerOf(values)
  for (let from = 0; from < samples.length; from += CHUNK_SAMPLES) {
    await packer.add(samples.between(from, Math.min(from + CHUNK_SAMPLES, samples.length)))
  }
  await packer.finish()
}
