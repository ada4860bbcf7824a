import { addCells, type Cells, cellSamples } from './envelope'
import type { Piece, WindowPlan } from './envelope-plan'

/** Adds the cells of one piece of a plan to the buckets; `cells` holds exactly those of the piece. */
export function addPiece(buckets: Cells, plan: WindowPlan, piece: Piece, cells: Cells): void {
  const { bucketSamples } = plan
  const size = cellSamples(piece.level)
  const firstBucket = Math.floor(plan.fromSample / bucketSamples)
  for (let cell = piece.fromCell; cell < piece.endCell; ) {
    const bucket = Math.floor((cell * size) / bucketSamples)
    // A cell lies in the bucket that it begins in.
    const end = Math.min(piece.endCell, Math.ceil(((bucket + 1) * bucketSamples) / size))
    addCells(buckets, bucket - firstBucket, cells, cell - piece.fromCell, end - piece.fromCell)
    cell = end
  }
}
