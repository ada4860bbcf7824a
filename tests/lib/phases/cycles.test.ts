import { describe, expect, it } from 'vitest'
import type { Phase, PhaseKind } from '@/lib/contract/result'
import { findCycles } from '@/lib/phases/cycles'

/** A cycle is one repeat of the recurring pattern, idle or not; a cut first or last one does not count (domain rule). */
type Part = readonly [kind: PhaseKind, seconds: number, gapBeforeS?: number]

function phasesOf(parts: readonly Part[]): Phase[] {
  let atS = 0
  return parts.map(([kind, seconds, gapBeforeS = 0]) => {
    const startS = atS + gapBeforeS
    atS = startS + seconds
    return { kind, startS, endS: atS }
  })
}
const times = (parts: readonly Part[], count: number): Part[] =>
  Array.from({ length: count }, () => parts).flat()
const lengths = (parts: readonly Part[]) =>
  findCycles(phasesOf(parts)).map(({ startS, endS }) => endS - startS)
const near = (got: readonly number[], length: number, count: number) => {
  expect(got).toHaveLength(count)
  for (const one of got) expect(one).toBeCloseTo(length, 6)
}

describe('cycles of a machine that idles between strokes', () => {
  const stroke: Part[] = [
    ['work-moving', 6],
    ['work-metering', 5],
    ['idle-loaded', 20],
  ]
  it('counts whole repeats; the idle before the first is no cycle, the last has no end', () => {
    // Ten strokes follow the first idle; the tenth's idle runs into the end of the log.
    near(lengths([['idle-loaded', 12], ...times(stroke, 10)]), 31, 9)
  })
  it('a log that starts within a stroke loses that one', () => {
    near(lengths([['work-metering', 2], ['idle-loaded', 20], ...times(stroke, 6), ['work-moving', 1]]), 31, 6)
  })
  it('a last one that ends with the motor’s stop is whole', () => {
    near(lengths([['idle-loaded', 12], ...times(stroke, 5), ['stopped', 100]]), 31, 5)
  })
  it('a gap cuts the cycle it falls in, and no other', () => {
    const cut: Part[] = [
      ['work-moving', 6],
      ['work-metering', 5],
      ['idle-loaded', 5],
      ['idle-loaded', 10, 30],
    ]
    const got = lengths([
      ['idle-loaded', 12],
      ...times(stroke, 4),
      ...cut,
      ...times(stroke, 4),
      ['work-moving', 6],
    ])
    near(got, 31, 8)
  })
  it('idles of any length are one pattern, and the mean is of the lengths', () => {
    const parts = [10, 40, 25, 60].flatMap((idle): Part[] => [
      ['work-moving', 6],
      ['idle-loaded', idle],
    ])
    expect(lengths([['idle-loaded', 5], ...parts, ['work-moving', 3]])).toEqual([16, 46, 31, 66])
  })
  it('a stroke with a step more now and then is still a stroke', () => {
    const odd: Part[] = [
      ['work-moving', 6],
      ['work-holding', 2],
      ['work-metering', 5],
      ['idle-loaded', 18],
    ]
    near(
      lengths([['idle-loaded', 5], ...times([...times(stroke, 9), ...odd], 2), ['work-moving', 1]]),
      31,
      20,
    )
  })
})

describe('strokes of different lengths in turn', () => {
  const lift = (share: number): Part[] => [
    ['work-moving', 9 * share],
    ['idle-loaded', 22],
    ['work-moving', 4 * share],
    ['idle-loaded', 45],
  ]
  it('up and down are one cycle, though the kinds are the same', () => {
    const parts = [0.96, 1.03, 1, 0.98, 1.05, 1.01].flatMap(lift)
    const got = lengths([['idle-loaded', 5], ...parts, ['work-moving', 3]])
    expect(got).toHaveLength(6)
    expect(got[0]).toBeCloseTo(9 * 0.96 + 22 + 4 * 0.96 + 45, 6)
  })
  it('too few of them say nothing, and lengths by chance are a stroke each', () => {
    expect(lengths([['idle-loaded', 5], ...lift(1), ...lift(1), ['work-moving', 3]])).toHaveLength(4)
    const chance = [9, 4, 5, 8, 4, 9, 9, 5, 4, 8].flatMap((seconds): Part[] => [
      ['work-moving', seconds],
      ['idle-loaded', 20],
    ])
    expect(lengths([['idle-loaded', 5], ...chance, ['work-moving', 3]])).toHaveLength(10)
  })
})

describe('patterns of more than one stroke', () => {
  const two: Part[] = [
    ['work-moving', 6],
    ['idle-loaded', 4],
    ['work-metering', 8],
    ['idle-loaded', 12],
  ]
  it('out and back is one cycle', () => {
    near(lengths([['idle-loaded', 12], ...times(two, 7), ['work-moving', 1]]), 30, 7)
  })
  it('three steps are one cycle', () => {
    const three: Part[] = [...two, ['work-holding', 3], ['idle-loaded', 7]]
    near(lengths([['idle-loaded', 12], ...times(three, 5), ['work-moving', 1]]), 40, 5)
  })
})

describe('a machine that never idles', () => {
  it('repeats its pattern of phases', () => {
    const pattern: Part[] = [
      ['work-moving', 6],
      ['work-metering', 8],
    ]
    // First and last phase are cut; from the second phase on, whole pairs.
    const got = lengths(times(pattern, 10))
    expect(got.length).toBeGreaterThanOrEqual(9 - 1)
    expect(got.length).toBeLessThanOrEqual(9)
    for (const one of got) expect(one).toBeCloseTo(14, 6)
  })
  it('does so too where it idles before the first stroke and after the last', () => {
    const pattern: Part[] = [
      ['work-moving', 4],
      ['work-holding', 3],
    ]
    const got = lengths([['idle-loaded', 20], ...times(pattern, 20), ['idle-loaded', 20]])
    expect(got.length).toBeGreaterThanOrEqual(18)
    expect(got.length).toBeLessThanOrEqual(20)
    for (const one of got) expect(one).toBeCloseTo(7, 6)
  })
  it('one stretch of work without change has no cycle', () => {
    expect(lengths([['work-moving', 600]])).toEqual([])
  })
})

describe('nothing to count', () => {
  it.each([
    ['no phase', []],
    ['idle alone', [['idle-loaded', 600]]],
    ['stopped alone', [['stopped', 600]]],
  ] as [string, Part[]][])('%s', (_name, parts) => {
    expect(lengths(parts)).toEqual([])
  })
})
