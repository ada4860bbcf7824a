import { changesOf, type PlacedTrace, telling } from './change-series'

/** Changes are taken over this long, or one interval of the slower logger where that is longer. */
const LEAST_SPAN_S = 1
/** Steps of the common grid to a span. */
const STEPS_PER_SPAN = 10
/** A long recording is looked at in so many stretches spread over it, none longer than this. */
const BLOCKS = 12
const LONGEST_BLOCK_S = 1800
const SHORTEST_BLOCK_S = 20

/** How the changes of two loggers go together at shifts of the second, stretch by stretch. */
export interface ShiftProfile {
  readonly stepS: number
  readonly spanS: number
  /** Middle of each stretch, s on the first logger's axis. */
  readonly middlesS: readonly number[]
  /** Drift of the second clock by which the stretches are shifted against each other already. */
  readonly drift: number
  /** The same with another drift. */
  tilted(drift: number): ShiftProfile
  /** The score from a part of the points, to find where to look. */
  roughScore(lag: number): number
  /** Squared correlation at a shift of so many steps, summed over the pairs of channels, all stretches together. */
  score(lag: number): number
  /** Correlations of the pairs at a shift: the weights with which stretches are compared. */
  weights(lag: number): Float64Array
  /** Correlation of one stretch at a shift, its pairs weighed. */
  blockScore(block: number, lag: number, weights: Float64Array): number
}

interface Block {
  readonly first: readonly Float64Array[]
  readonly second: readonly Float64Array[]
  readonly count: number
}

function powerOf(values: Float64Array): number {
  let sum = 0
  for (const value of values) sum += value * value
  return sum
}

/**
 * Prepares two loggers' changes on one grid. The first's are known beyond each stretch by the largest shift.
 * @param mostShiftS shifts of the second logger up to this are asked for
 * @returns null where they share too little time, or a logger has no channel that tells
 */
export function shiftProfile(
  first: PlacedTrace,
  second: PlacedTrace,
  mostShiftS: number,
): ShiftProfile | null {
  const fromS = Math.max(first.startS, second.startS)
  const endOf = ({ trace, startS }: PlacedTrace): number => startS + trace.timeS[trace.timeS.length - 1]
  const toS = Math.min(endOf(first), endOf(second))
  const firsts = telling(first)
  const seconds = telling(second)
  const spanS = Math.max(LEAST_SPAN_S, first.trace.sampleIntervalS, second.trace.sampleIntervalS)
  const stepS = spanS / STEPS_PER_SPAN
  const pieceS = (toS - fromS) / BLOCKS
  if (firsts.length === 0 || seconds.length === 0 || !(pieceS > Math.max(SHORTEST_BLOCK_S, 2 * spanS)))
    return null
  const lengthS = Math.min(pieceS, LONGEST_BLOCK_S)
  const count = Math.floor(lengthS / stepS)
  const margin = Math.ceil(mostShiftS / stepS)
  const middlesS: number[] = []
  const blocks: Block[] = []
  for (let i = 0; i < BLOCKS; i++) {
    const startS = fromS + i * pieceS + (pieceS - lengthS) / 2
    const grid = { stepS, spanSteps: STEPS_PER_SPAN }
    const wide = { ...grid, fromS: startS - margin * stepS, count: count + 2 * margin }
    const narrow = { ...grid, fromS: startS, count }
    middlesS.push(startS + lengthS / 2)
    blocks.push({
      count,
      first: firsts.flatMap((channel) => changesOf(first, channel, wide)),
      second: seconds.flatMap((channel) => changesOf(second, channel, narrow)),
    })
  }
  const middleS = (middlesS[0] + middlesS[BLOCKS - 1]) / 2
  return profileOf({ blocks, margin, stepS, spanS, middlesS, norm: normOf(blocks, margin) }, (block, drift) =>
    Math.round((drift * (middlesS[block] - middleS)) / stepS),
  )
}

/** What a pair's summed products are divided by to be a correlation. */
function normOf(blocks: readonly Block[], margin: number): Float64Array {
  const { first, second, count } = blocks[0]
  const width = count / (count + 2 * margin)
  const powers = (of: (block: Block) => Float64Array): number =>
    blocks.reduce((sum, block) => sum + powerOf(of(block)), 0)
  const a = first.map((_, f) => powers((block) => block.first[f]) * width)
  const b = second.map((_, k) => powers((block) => block.second[k]))
  return Float64Array.from(a.flatMap((one) => b.map((other) => Math.sqrt(one * other))))
}

interface Prepared {
  readonly blocks: readonly Block[]
  readonly margin: number
  readonly stepS: number
  readonly spanS: number
  readonly middlesS: readonly number[]
  readonly norm: Float64Array
}

/** Where the second logger is shifted by `lag`, its reading i stands beside the first's at i + lag. */
function products(block: Block, at: number, every: number): Float64Array {
  const { first, second, count } = block
  const out = new Float64Array(first.length * second.length)
  let pair = 0
  for (const a of first) {
    for (const b of second) {
      let sum = 0
      for (let i = 0, k = at; i < count; i += every, k += every) sum += a[k] * b[i]
      out[pair++] = sum * every
    }
  }
  return out
}

function profileOf(prepared: Prepared, tiltOf: (block: number, drift: number) => number): ShiftProfile {
  const { blocks, margin, norm } = prepared
  const known = blocks.map(() => ({
    rough: new Map<number, Float64Array>(),
    exact: new Map<number, Float64Array>(),
  }))
  const at = (block: number, lag: number, how: 'rough' | 'exact'): Float64Array => {
    const place = Math.max(-margin, Math.min(margin, lag))
    const found =
      known[block][how].get(place) ??
      products(blocks[block], margin + place, how === 'rough' ? STEPS_PER_SPAN / 2 : 1)
    known[block][how].set(place, found)
    return found
  }
  const tilted = (drift: number): ShiftProfile => {
    const weights = (lag: number, how: 'rough' | 'exact' = 'exact'): Float64Array => {
      const sums = new Float64Array(norm.length)
      blocks.forEach((_, block) => {
        at(block, lag + tiltOf(block, drift), how).forEach((value, pair) => {
          sums[pair] += value
        })
      })
      return sums.map((sum, pair) => (norm[pair] > 0 ? sum / norm[pair] : 0))
    }
    return {
      ...prepared,
      drift,
      tilted,
      weights,
      roughScore: (lag) => powerOf(weights(lag, 'rough')),
      score: (lag) => powerOf(weights(lag)),
      blockScore(block, lag, by) {
        const own = at(block, lag + tiltOf(block, drift), 'exact')
        return own.reduce(
          (sum, value, pair) => (norm[pair] > 0 ? sum + (by[pair] * value) / norm[pair] : sum),
          0,
        )
      },
    }
  }
  return tilted(0)
}
