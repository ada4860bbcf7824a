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

/** The part of a piece that lies in one chunk, as a piece of its own with the chunk's cells for it. */
function partOf(piece: Piece, seq: number, chunk: Cells): { part: Piece; cells: Cells } {
  const base = seq * chunkCells(piece.level)
  const fromCell = Math.max(piece.fromCell, base)
  const endCell = Math.min(piece.endCell, base + chunk.min.length)
  const cut = (values: Float64Array) => values.subarray(fromCell - base, endCell - base)
  const cells = { min: cut(chunk.min), max: cut(chunk.max), mean: cut(chunk.mean), valid: cut(chunk.valid) }
  return { part: { level: piece.level, fromCell, endCell }, cells }
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
  const coarse = await listEnvelopeChunks(db, key, channels, levels)
  const fine = await listStretches(db, key, channels, stretches)
  const buckets = new Map(channels.map((channel) => [channel, emptyCells(plan.bucketCount)]))
  const add = (channel: string, level: number, seq: number, chunk: Cells) => {
    const into = buckets.get(channel)
    for (const piece of plan.pieces) {
      const { fromSeq, toSeq } = chunkRange(piece)
      if (!into || piece.level !== level || seq < fromSeq || seq > toSeq) continue
      const { part, cells } = partOf(piece, seq, chunk)
      addPiece(into, plan, part, cells)
    }
  }
  for (const { channel, level, seq, bytes } of coarse)
    add(channel, level, seq, decodeCells(openPacked(bytes)))
  for (const { channel, seq, bytes } of fine) add(channel, 0, seq, asCells(decodeChunk(openPacked(bytes))))
  return buckets
}
