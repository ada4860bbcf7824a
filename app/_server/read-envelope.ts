import { openPacked } from '@/app/_jobs/packed-chunk'
import type { Database } from '@/db/client'
import { listEnvelopeChunks } from '@/db/queries/envelope-chunks'
import type { LogKey } from '@/db/queries/logs'
import { listSampleChunks } from '@/db/queries/sample-chunks'
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

/** A channel's buckets for a planned window, from the few chunks the plan touches. */
export async function readEnvelope(
  db: Database,
  key: LogKey,
  channel: string,
  plan: WindowPlan,
): Promise<Cells> {
  const buckets = emptyCells(plan.bucketCount)
  const coarse = plan.pieces.filter((piece) => piece.level > 0)
  const rows = await listEnvelopeChunks(db, key, channel, coarse.map(chunkRange))
  for (const piece of plan.pieces) {
    const { level, fromSeq, toSeq } = chunkRange(piece)
    const chunks =
      level === 0
        ? (await listSampleChunks(db, key, channel, { fromSeq, toSeq })).map(({ seq, bytes }) => ({
            seq,
            cells: asCells(decodeChunk(openPacked(bytes))),
          }))
        : rows
            .filter((row) => row.level === level && row.seq >= fromSeq && row.seq <= toSeq)
            .map(({ seq, bytes }) => ({ seq, cells: decodeCells(openPacked(bytes)) }))
    for (const chunk of chunks) {
      const { part, cells } = partOf(piece, chunk.seq, chunk.cells)
      addPiece(buckets, plan, part, cells)
    }
  }
  return buckets
}
