import { describe, expect, it } from 'vitest'
import type { FirstKind } from '@/lib/phases/classify'
import { tellHolds } from '@/lib/phases/holds'
import type { Stretch, StretchMeans } from '@/lib/phases/stretch'

/** Order of evidence and longest hold: the project's domain rules, section 5. */
const LONGEST_HOLD_S = 15

interface Piece {
  readonly kind: FirstKind
  readonly seconds: number
  readonly afterGap?: boolean
}

const SILENT = new Proxy({} as StretchMeans, { get: () => Number.NaN })

function told(pieces: readonly Piece[], tooLongIs?: 'idle-loaded' | 'work-metering') {
  const stretches = pieces.map(
    ({ seconds, afterGap }, i): Stretch => ({
      from: i,
      to: i + 1,
      durationS: seconds,
      afterGap: i === 0 || Boolean(afterGap),
      means: SILENT,
      peakLoadPa: Number.NaN,
    }),
  )
  const kinds = pieces.map(({ kind }) => kind)
  return tellHolds(stretches, kinds, LONGEST_HOLD_S, 0, tooLongIs)
}

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
    expect(told([move, dead(20), move], 'work-metering')[1]).toBe('work-metering')
    expect(told([move, dead(6), move], 'work-metering')[1]).toBe('work-holding')
  })
})
