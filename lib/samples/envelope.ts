/** Samples in one cell of the finest level, and how many cells make one of the next. */
export const FINEST_CELL_SAMPLES = 32
export const CELLS_A_STEP = 8
/** Cells stored together. */
export const CHUNK_CELLS = 4096

/** Smallest, largest and mean value of stretches of samples; NaN where a stretch holds no value. */
export interface Cells {
  readonly min: Float64Array
  readonly max: Float64Array
  /** Plain mean of the samples that hold a value. */
  readonly mean: Float64Array
  /** How many samples hold a value. */
  readonly valid: Float64Array
}

/** Samples a cell of a level covers; level 0 is the samples themselves. */
export function cellSamples(level: number): number {
  return level === 0 ? 1 : FINEST_CELL_SAMPLES * CELLS_A_STEP ** (level - 1)
}

/** Levels a recording has: up to the first whose cells fit one stored chunk. */
export function levelCount(sampleCount: number): number {
  if (sampleCount <= FINEST_CELL_SAMPLES) return 0
  let level = 1
  while (sampleCount / cellSamples(level) > CHUNK_CELLS) level++
  return level
}

export function emptyCells(count: number): Cells {
  const nothing = () => new Float64Array(count).fill(Number.NaN)
  return { min: nothing(), max: nothing(), mean: nothing(), valid: new Float64Array(count) }
}

/** Samples as cells of one sample each. */
export function asCells(values: Float64Array): Cells {
  const valid = new Float64Array(values.length)
  for (let i = 0; i < values.length; i++) valid[i] = Number.isNaN(values[i]) ? 0 : 1
  return { min: values, max: values, mean: values, valid }
}

/** Adds cell `from` of `source` to cell `to` of `target`; extremes exact, the mean weighted by valid samples. */
export function addCell(target: Cells, to: number, source: Cells, from: number): void {
  const added = source.valid[from]
  if (added === 0) return
  const had = target.valid[to]
  if (had === 0) {
    target.min[to] = source.min[from]
    target.max[to] = source.max[from]
    target.mean[to] = source.mean[from]
  } else {
    if (source.min[from] < target.min[to]) target.min[to] = source.min[from]
    if (source.max[from] > target.max[to]) target.max[to] = source.max[from]
    target.mean[to] += ((source.mean[from] - target.mean[to]) * added) / (had + added)
  }
  target.valid[to] = had + added
}

function coarser(fine: Cells, step: number): Cells {
  const cells = emptyCells(Math.ceil(fine.min.length / step))
  for (let i = 0; i < fine.min.length; i++) addCell(cells, Math.floor(i / step), fine, i)
  return cells
}

/** All levels of a channel's envelope, the finest (level 1) first. */
export function buildEnvelope(values: Float64Array): Cells[] {
  const levels: Cells[] = []
  const count = levelCount(values.length)
  for (let level = 1; level <= count; level++)
    levels.push(
      level === 1
        ? coarser(asCells(values), FINEST_CELL_SAMPLES)
        : coarser(levels[levels.length - 1], CELLS_A_STEP),
    )
  return levels
}
