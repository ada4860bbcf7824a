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

/**
 * Adds cells [from, end) of `source` to cell `to` of `target`, in order; extremes exact, the mean weighted by valid
 * samples.
 */
export function addCells(target: Cells, to: number, source: Cells, from: number, end: number): void {
  let min = target.min[to]
  let max = target.max[to]
  let mean = target.mean[to]
  let had = target.valid[to]
  for (let i = from; i < end; i++) {
    const added = source.valid[i]
    if (added === 0) continue
    if (had === 0) {
      min = source.min[i]
      max = source.max[i]
      mean = source.mean[i]
    } else {
      if (source.min[i] < min) min = source.min[i]
      if (source.max[i] > max) max = source.max[i]
      mean += ((source.mean[i] - mean) * added) / (had + added)
    }
    had += added
  }
  target.min[to] = min
  target.max[to] = max
  target.mean[to] = mean
  target.valid[to] = had
}

function coarser(fine: Cells): Cells {
  const count = fine.min.length
  const cells = emptyCells(Math.ceil(count / CELLS_A_STEP))
  for (let from = 0, cell = 0; from < count; from += CELLS_A_STEP, cell++)
    addCells(cells, cell, fine, from, Math.min(count, from + CELLS_A_STEP))
  return cells
}

/** Adds samples [from, to), all of one cell; NaN holds no value. */
function addSamples(cells: Cells, cell: number, values: Float64Array, from: number, to: number): void {
  let min = Number.POSITIVE_INFINITY
  let max = Number.NEGATIVE_INFINITY
  let sum = 0
  let count = 0
  for (let i = from; i < to; i++) {
    const value = values[i]
    if (Number.isNaN(value)) continue
    if (value < min) min = value
    if (value > max) max = value
    sum += value
    count++
  }
  if (count === 0) return
  const had = cells.valid[cell]
  if (had === 0) {
    cells.min[cell] = min
    cells.max[cell] = max
    cells.mean[cell] = sum / count
  } else {
    if (min < cells.min[cell]) cells.min[cell] = min
    if (max > cells.max[cell]) cells.max[cell] = max
    cells.mean[cell] += ((sum / count - cells.mean[cell]) * count) / (had + count)
  }
  cells.valid[cell] = had + count
}

/** An envelope in the making, from samples that arrive part by part. */
export interface EnvelopeBuilder {
  /** Takes the next samples. */
  add(values: Float64Array): void
  /** All levels, the finest (level 1) first, once every sample was added. */
  levels(): Cells[]
}

export function envelopeBuilder(sampleCount: number): EnvelopeBuilder {
  const count = levelCount(sampleCount)
  const finest = emptyCells(count === 0 ? 0 : Math.ceil(sampleCount / FINEST_CELL_SAMPLES))
  let taken = 0
  return {
    add: (values) => {
      if (count === 0) return
      for (let from = 0; from < values.length; ) {
        const cell = Math.floor((taken + from) / FINEST_CELL_SAMPLES)
        const to = Math.min(values.length, (cell + 1) * FINEST_CELL_SAMPLES - taken)
        addSamples(finest, cell, values, from, to)
        from = to
      }
      taken += values.length
    },
    levels: () => {
      if (count === 0) return []
      const levels = [finest]
      while (levels.length < count) levels.push(coarser(levels[levels.length - 1]))
      return levels
    },
  }
}

/** All levels of a channel's envelope, the finest (level 1) first. */
export function buildEnvelope(values: Float64Array): Cells[] {
  const builder = envelopeBuilder(values.length)
  builder.add(values)
  return builder.levels()
}
