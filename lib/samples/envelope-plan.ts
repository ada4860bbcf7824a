import { cellSamples, levelCount } from './envelope'

/** Cells `fromCell` up to but not including `endCell` of one level; level 0 is the samples. */
export interface Piece {
  readonly level: number
  readonly fromCell: number
  readonly endCell: number
}

/** How a window of samples is drawn: which stored cells cover it exactly and how they fall into buckets. */
export interface WindowPlan {
  /** Samples in a bucket; buckets begin at whole multiples of it, the first and last are cut by the window. */
  readonly bucketSamples: number
  readonly fromSample: number
  readonly endSample: number
  readonly bucketCount: number
  readonly pieces: readonly Piece[]
}

/** Buckets may be this much longer than wanted where that spares reading cells of a level eight times finer. */
const COARSER = 1.25

/** The window as cells of `level` with finer ones at its two edges, in order. */
function cover(fromSample: number, endSample: number, level: number, sampleCount: number): Piece[] {
  if (fromSample >= endSample) return []
  if (level === 0) return [{ level, fromCell: fromSample, endCell: endSample }]
  const size = cellSamples(level)
  const fromCell = Math.ceil(fromSample / size)
  // The last cell of a recording may be short, and still ends where the recording does.
  const endCell = endSample === sampleCount ? Math.ceil(endSample / size) : Math.floor(endSample / size)
  if (fromCell >= endCell) return cover(fromSample, endSample, level - 1, sampleCount)
  return [
    ...cover(fromSample, fromCell * size, level - 1, sampleCount),
    { level, fromCell, endCell },
    ...cover(Math.min(endCell * size, sampleCount), endSample, level - 1, sampleCount),
  ]
}

/**
 * Plans the envelope of samples `fromSample` to `endSample` (not included) in at most `points` buckets.
 * Cells are never cut, so extremes are those of the window's own samples.
 * @param points at least 2
 */
export function planWindow(
  sampleCount: number,
  fromSample: number,
  endSample: number,
  points: number,
): WindowPlan {
  const count = Math.max(0, endSample - fromSample)
  if (count <= points)
    return {
      bucketSamples: 1,
      fromSample,
      endSample: fromSample + count,
      bucketCount: count,
      pieces: cover(fromSample, fromSample + count, 0, sampleCount),
    }
  // One bucket fewer than asked for: cut at both edges, n buckets' worth of samples may touch n + 1 buckets.
  const wanted = count / (points - 1)
  let level = levelCount(sampleCount)
  while (cellSamples(level) > wanted * COARSER) level--
  const size = cellSamples(level)
  const bucketSamples = Math.ceil(wanted / size) * size
  const bucketCount = Math.floor((endSample - 1) / bucketSamples) - Math.floor(fromSample / bucketSamples) + 1
  const pieces = cover(fromSample, endSample, level, sampleCount)
  return { bucketSamples, fromSample, endSample, bucketCount, pieces }
}
