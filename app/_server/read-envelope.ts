import { openPacked } from '@/app/_jobs/packed-chunk'
import type { Database } from '@/db/client'
import { listEnvelopeChunks } from '@/db/queries/envelope-chunks'
import type { LogKey } from '@/db/queries/logs'
import { listStretches } from '@/db/queries/sample-chunks'
import { CHUNK_SAMPLES, decodeChunk } from '@/lib/samples/codec'
import { asCells, type Cells, CHUNK_CELLS, emptyCells } from '@/lib/samples/envelope'
import { decodeCells } from '@/lib/samples/envelope-codec'
import { addPiece } from '@/lib/samples/envelope-merge'
import type { Piece, WindowPlan } from '@/lib/samples/envelope-plan'

const chunkCells = (level: number) => (level === 0 ? CHUNK_SAMPLES : CHUNK_CELLS)

function chunkRange({ level, fromCell, endCell }: Piece) {
  const cells = chunkCells(level)
  return { level, fromSeq: Math.floor(fromCell / cells), toSeq: Math.floor((endCell - 1) / cells) }
}

/** The part of a piece that lies in one chunk, and where in the chunk. */
function partOf({ level, fromCell, endCell }: Piece, seq: number, length: number) {
  const base = seq * chunkCells(level)
  const part = { level, fromCell: Math.max(fromCell, base), endCell: Math.min(endCell, base + length) }
  return { part, cut: (values: Float64Array) => values.subarray(part.fromCell - base, part.endCell - base) }
}

/** Each channel's buckets for a planned window, from the few chunks the plan touches: two queries for all of them. */
export async function readEnvelopes(
  db: Database,
  key: LogKey,
  channels: readonly string[],
  plan: WindowPlan,
): Promise<ReadonlyMap<string, Cells>> {
  const levels = plan.pieces.filter((piece) => piece.level > 0).map(chunkRange)
  const stretches = plan.pieces.filter((piece) => piece.level === 0).map(chunkRange)
  const [coarse, fine] = await Promise.all([
    listEnvelopeChunks(db, key, channels, levels),
    listStretches(db, key, channels, stretches),
  ])
  const buckets = new Map(channels.map((channel) => [channel, emptyCells(plan.bucketCount)]))
  const piecesIn = (level: number, seq: number) =>
    plan.pieces.filter((piece) => {
      const { fromSeq, toSeq } = chunkRange(piece)
      return piece.level === level && seq >= fromSeq && seq <= toSeq
    })
  for (const { channel, level, seq, bytes } of coarse) {
    const into = buckets.get(channel)
    if (!into) continue
    const { min, max, mean, valid } = decodeCells(openPacked(bytes))
    for (const piece of piecesIn(level, seq)) {
      const { part, cut } = partOf(piece, seq, min.length)
      addPiece(into, plan, part, { min: cut(min), max: cut(max), mean: cut(mean), valid: cut(valid) })
    }
  }
  for (const { channel, seq, bytes } of fine) {
    const into = buckets.get(channel)
    if (!into) continue
    const values = decodeChunk(openPacked(bytes))
    for (const piece of piecesIn(0, seq)) {
      const { part, cut } = partOf(piece, seq, values.length)
      addPiece(into, plan, part, asCells(cut(values)))
    }
  }
  return buckets
}
