import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { TankwardError } from '@/lib/errors'
import { seededRandom } from '@/lib/numeric/random'
import {
  asCells,
  buildEnvelope,
  type Cells,
  CHUNK_CELLS,
  emptyCells,
  levelCount,
} from '@/lib/samples/envelope'
import { decodeCells, encodeCells } from '@/lib/samples/envelope-codec'
import { addPiece } from '@/lib/samples/envelope-merge'
import { planWindow } from '@/lib/samples/envelope-plan'

const slice = (cells: Cells, from: number, end: number): Cells => ({
  min: cells.min.subarray(from, end),
  max: cells.max.subarray(from, end),
  mean: cells.mean.subarray(from, end),
  valid: cells.valid.subarray(from, end),
})

function noisy(count: number, seed: number): Float64Array {
  const random = seededRandom(seed)
  return Float64Array.from({ length: count }, () => (random() < 0.02 ? Number.NaN : random() * 200 - 20))
}

/** The buckets of a window through the stored levels. */
function envelope(values: Float64Array, from: number, end: number, points: number) {
  const levels = [asCells(values), ...buildEnvelope(values)]
  const plan = planWindow(values.length, from, end, points)
  const buckets = emptyCells(plan.bucketCount)
  for (const piece of plan.pieces)
    addPiece(buckets, plan, piece, slice(levels[piece.level], piece.fromCell, piece.endCell))
  return { plan, buckets }
}

/** The same by looking at every sample. */
function bruteForce(values: Float64Array, from: number, end: number, bucketSamples: number) {
  const found = new Map<number, number[]>()
  for (let i = from; i < end; i++) {
    const bucket = Math.floor(i / bucketSamples)
    const list = found.get(bucket) ?? []
    if (!Number.isNaN(values[i])) list.push(values[i])
    found.set(bucket, list)
  }
  return [...found.values()]
}

describe('the envelope of a window', () => {
  const window = fc
    .tuple(fc.integer({ min: 1, max: 40_000 }), fc.nat(), fc.nat(), fc.integer({ min: 2, max: 4000 }))
    .map(([count, a, b, points]) => {
      const [from, last] = [a % count, b % count].sort((x, y) => x - y)
      return { count, from, end: last + 1, points }
    })

  it('has the extremes, counts and means of the samples themselves, for any window and number of points', () => {
    fc.assert(
      fc.property(window, fc.integer(), ({ count, from, end, points }, seed) => {
        const values = noisy(count, seed)
        const { plan, buckets } = envelope(values, from, end, points)
        const wanted = bruteForce(values, from, end, plan.bucketSamples)
        expect(plan.bucketCount).toBe(wanted.length)
        expect(plan.bucketCount).toBeLessThanOrEqual(points)
        wanted.forEach((list, i) => {
          expect(buckets.valid[i]).toBe(list.length)
          expect(buckets.min[i]).toBe(list.length ? Math.min(...list) : Number.NaN)
          expect(buckets.max[i]).toBe(list.length ? Math.max(...list) : Number.NaN)
          if (list.length)
            expect(buckets.mean[i]).toBeCloseTo(list.reduce((s, v) => s + v, 0) / list.length, 8)
        })
      }),
      { numRuns: 60 },
    )
  })

  it('shows single samples when there are no more of them than points', () => {
    const values = noisy(5000, 1)
    const { plan, buckets } = envelope(values, 1000, 1400, 400)
    expect(plan.bucketSamples).toBe(1)
    expect(buckets.mean).toEqual(values.slice(1000, 1400))
  })

  it('reads few cells however long the recording is', () => {
    const plan = planWindow(30_000_000, 7, 29_999_993, 4000)
    const cells = plan.pieces.reduce((sum, piece) => sum + piece.endCell - piece.fromCell, 0)
    expect(cells).toBeLessThan(40_000)
    expect(plan.bucketCount).toBeLessThanOrEqual(4000)
    expect(plan.bucketCount).toBeGreaterThan(2000)
  })

  it('has levels up to one that fits a stored chunk, and none for a handful of samples', () => {
    expect(levelCount(0)).toBe(0)
    expect(levelCount(32)).toBe(0)
    const levels = buildEnvelope(noisy(300_000, 3))
    expect(levels.length).toBe(levelCount(300_000))
    expect(levels[levels.length - 1].min.length).toBeLessThanOrEqual(CHUNK_CELLS)
  })
})

describe('encodeCells and decodeCells', () => {
  it('keep extremes and counts to the last bit and means to single precision', () => {
    const [cells] = buildEnvelope(noisy(5000, 5))
    const back = decodeCells(encodeCells(cells, 'bar'))
    expect(back.min).toEqual(cells.min)
    expect(back.max).toEqual(cells.max)
    expect(back.valid).toEqual(cells.valid)
    expect(back.mean).toEqual(Float64Array.from(cells.mean, Math.fround))
  })

  it('refuse damaged bytes', () => {
    const bytes = encodeCells(buildEnvelope(noisy(500, 5))[0], 'bar')
    expect(() => decodeCells(bytes.subarray(0, 5))).toThrow(TankwardError)
    expect(() => decodeCells(bytes.subarray(0, bytes.length - 4))).toThrow(TankwardError)
    expect(() => decodeCells(Uint8Array.of(...bytes, 1))).toThrow(TankwardError)
  })
})
