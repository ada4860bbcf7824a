import { addCell, type Cells, cellSamples } from './envelope'
import type { Piece, WindowPlan } from './envelope-plan'

/** Adds the cells of one piece of a plan to the buckets; `cells` holds exactly those of the piece. */
export function addPiece(buckets: Cells, plan: WindowPlan, piece: Piece, cells: Cells): void {
  const size = cellSamples(piece.level)
  const firstBucket = Math.floor(plan.fromSample / plan.bucketSamples)
  for (let cell = piece.fromCell; cell < piece.endCell; cell++) {
    const bucket = Math.floor((cell * size) / plan.bucketSamples) - firstBucket
    addCell(buckets, bucket, cells, cell - piece.fromCell)
  }
}
