import { describe, expect, it } from 'vitest'
import type { FirstKind } from '@/lib/phases/classify'
import { otherwiseTold, tellHolds } from '@/lib/phases/holds'
import type { Stretch, StretchMeans } from '@/lib/phases/stretch'

/** Order of evidence and longest hold: the project's domain rules, section 5. */
const LONGEST_HOLD_S = 15

interface Piece {
  readonly kind: FirstKind
  readonly seconds: number
  readonly afterGap?: boolean
  readonly samplesPerS?: number
}

const SILENT = new Proxy({} as StretchMeans, { get: () => Number.NaN })

function read(pieces: readonly Piece[], isBlind: boolean) {
  const stretches = pieces.map(
    ({ seconds, afterGap, samplesPerS = 10 }, i): Stretch => ({
      from: i,
      to: i + Math.round(samplesPerS * seconds),
      durationS: seconds,
      afterGap: i === 0 || Boolean(afterGap),
      means: SILENT,
      peakLoadPa: Number.NaN,
    }),
  )
  const kinds = pieces.map(({ kind }) => kind)
  const rules = { longestHoldS: LONGEST_HOLD_S, standbyPa: 0, isBlind }
  const told = tellHolds(stretches, kinds, rules)
  return { told, otherwise: otherwiseTold(stretches, kinds, told, rules) }
}
const told = (pieces: readonly Piece[], isBlind = false) => read(pieces, isBlind).told

const move: Piece = { kind: 'work-moving', seconds: 4 }
const dead = (seconds: number): Piece => ({ kind: 'dead-headed', seconds })
/** A cycle with a short hold inside and a long idle behind it. */
const CYCLE = [move, dead(5), move, dead(30)]

describe('holds by their length', () => {
  it('a dead-headed stretch right after work and shorter than the longest hold is a hold', () => {
    expect(told(CYCLE)).toEqual(['work-moving', 'work-holding', 'work-moving', 'idle-loaded'])
  })

  it('the idle that the end of the log, a gap or the motor’s stop cuts short is still an idle', () => {
    const cut = [...CYCLE, ...CYCLE, move, dead(5), move, dead(6)]
    expect(told(cut).at(-1)).toBe('idle-loaded')
    expect(told([...cut, { kind: 'stopped', seconds: 20 }]).at(-2)).toBe('idle-loaded')
    expect(told([...cut, { ...move, afterGap: true }]).at(-2)).toBe('idle-loaded')
  })

  it('the hold that they cut short is still a hold', () => {
    expect(told([...CYCLE, ...CYCLE, move, dead(3)]).at(-1)).toBe('work-holding')
  })

  it('without a whole one to compare with, length decides', () => {
    expect(told([move, dead(6)])).toEqual(['work-moving', 'work-holding'])
  })

  it('what begins after a gap is a hold only where all whole ones are', () => {
    const after = { ...dead(4), afterGap: true }
    expect(told([move, dead(5), move, dead(5), move, after, move]).at(-2)).toBe('work-holding')
    expect(told([...CYCLE, move, after, move]).at(-2)).toBe('idle-loaded')
  })

  it('on a machine that idles unloaded, what is longer than any hold is metering', () => {
    expect(told([move, dead(20), move], true)[1]).toBe('work-metering')
    expect(told([move, dead(6), move], true)[1]).toBe('work-holding')
  })

  const unloaded: Piece = { kind: 'idle-unloaded', seconds: 40 }
  const endingAt = (lengths: readonly number[]) =>
    lengths.flatMap((seconds) => [move, dead(seconds), unloaded])
  const kindsOf = (lengths: readonly number[]) => [
    ...new Set(told(endingAt(lengths), true).filter((_, k) => k % 3 === 1)),
  ]

  it('what ends as the pump is unloaded and lasts the same every time is a timer’s wait', () => {
    expect(kindsOf([2.5, 2.5, 2.4, 2.5])).toEqual(['idle-loaded'])
    expect(kindsOf([18.1, 18, 18.1, 18])).toEqual(['idle-loaded'])
  })

  it('what ends so after another time in every cycle is a hold, or metering where it is too long for one', () => {
    expect(kindsOf([6.1, 7.2, 5.4, 6.6])).toEqual(['work-holding'])
    expect(kindsOf([19.8, 19, 20.6, 21.4])).toEqual(['work-metering'])
  })

  it('lengths that coarse samples make alike tell nothing', () => {
    const coarse = endingAt([20, 20.5, 19.5, 20]).map((piece) => ({ ...piece, samplesPerS: 2 }))
    expect(read(coarse, true).told[1]).toBe('idle-loaded')
    expect(read(coarse, true).otherwise?.[1]).toBe('work-metering')
  })

  it('more of them that are alike rule chance out, a few of long ones do not', () => {
    const at2Hz = (lengths: readonly number[]) =>
      endingAt(lengths).map((piece) => ({ ...piece, samplesPerS: 2 }))
    const few = at2Hz([25, 24, 25, 25.5, 25])
    expect(read(few, true).otherwise?.[1]).toBe('work-metering')
    const many = at2Hz(Array.from({ length: 16 }, (_, k) => (k % 3 === 0 ? 25.5 : 25)))
    expect(read(many, true).told[1]).toBe('idle-loaded')
    expect(read(many, true).otherwise).toBeNull()
  })

  it('one that the motor’s stop cuts short is what whole ones at its place are', () => {
    const stopped: Piece = { kind: 'stopped', seconds: 20 }
    const cutAfter = (lengths: readonly number[]) =>
      told([...endingAt(lengths), move, dead(8), stopped], true).at(-2)
    expect(cutAfter([19.8, 19, 20.6, 21.4])).toBe('work-metering')
    expect(cutAfter([18.1, 18, 18.1, 18])).toBe('idle-loaded')
    expect(cutAfter([8.4, 9.6, 8.9, 10.2])).toBe('work-holding')
  })

  it('of a few the length decides', () => {
    expect(kindsOf([2.5, 2.5])).toEqual(['work-holding'])
    expect(kindsOf([18.1, 18])).toEqual(['idle-loaded'])
  })

  it('the other reading is at hand, but for metering whose lengths rule a wait out', () => {
    const otherOf = (lengths: readonly number[]) => read(endingAt(lengths), true).otherwise?.[1] ?? null
    expect(otherOf([2.5, 2.5, 2.4, 2.5])).toBe('work-holding')
    expect(otherOf([6.1, 7.2, 5.4, 6.6])).toBe('idle-loaded')
    expect(otherOf([18.1, 18])).toBe('work-metering')
    expect(otherOf([19.8, 19, 20.6, 21.4])).toBeNull()
  })

  it('a meter that shows no flow tells no hold from a wait either, but that a long run is no metering', () => {
    const wait = read(endingAt([2.5, 2.5, 2.4, 2.5]), false)
    expect([wait.told[1], wait.otherwise?.[1]]).toEqual(['idle-loaded', 'work-holding'])
    const hold = read(endingAt([6.1, 7.2, 5.4, 6.6]), false)
    expect([hold.told[1], hold.otherwise?.[1]]).toEqual(['work-holding', 'idle-loaded'])
    const long = read(endingAt([19.8, 19, 20.6, 21.4]), false)
    expect([long.told[1], long.otherwise]).toEqual(['idle-loaded', null])
  })

  it('what begins as the unloaded pump is loaded and lasts longer than any hold feeds something; the other reading is at hand', () => {
    const fed = [unloaded, dead(20), move, unloaded, dead(20), move]
    expect(read(fed, true).told[1]).toBe('work-metering')
    expect(read(fed, true).otherwise?.[1]).toBe('idle-loaded')
    expect(told(fed)[1]).toBe('idle-loaded')
    const brief = [unloaded, dead(6), move, unloaded, dead(6), move]
    expect(read(brief, true)).toEqual({ told: told(brief), otherwise: null })
  })
})
