import { TIME_CHANNEL } from '@/app/_jobs/channel-names'
import { openPacked } from '@/app/_jobs/packed-chunk'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { findChunksAt, type SampleChunk } from '@/db/queries/sample-chunks'
import { decodeChunk } from '@/lib/samples/codec'

/** Index of the last sample of a chunk at or before an elapsed time; −1 where there is no chunk. */
function indexAt(chunk: SampleChunk | undefined, timeS: number): number {
  if (!chunk) return -1
  const times = decodeChunk(openPacked(chunk.bytes))
  let low = 0
  let high = times.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (times[middle] <= timeS) low = middle + 1
    else high = middle
  }
  return chunk.firstSample + low - 1
}

/** Index of the last sample at or before an elapsed time; −1 before the first. */
export async function sampleAt(db: Database, key: LogKey, timeS: number): Promise<number> {
  const [chunk] = await findChunksAt(db, key, TIME_CHANNEL, [timeS])
  return indexAt(chunk, timeS)
}

/** The samples of a stretch of time: from the one that holds at its start to the last one not after its end. */
export async function findWindow(
  db: Database,
  key: LogKey,
  fromS: number,
  toS: number,
): Promise<{ readonly fromSample: number; readonly endSample: number }> {
  const chunks = await findChunksAt(db, key, TIME_CHANNEL, [fromS, toS])
  const heldAt = (timeS: number) =>
    indexAt(
      chunks.findLast(({ startS }) => startS <= timeS),
      timeS,
    )
  const fromSample = Math.max(0, heldAt(fromS))
  return { fromSample, endSample: Math.max(fromSample, heldAt(toS) + 1) }
}
