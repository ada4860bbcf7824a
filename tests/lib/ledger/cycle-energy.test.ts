import { describe, expect, it } from 'vitest'
import { cycleFigures } from '@/lib/ledger/cycle-energy'
import { idleByLongestHold } from '@/lib/ledger/idle'
import { accountFor } from '@/lib/ledger/ledger'
import { findCycles } from '@/lib/phases/cycles'
import { IDLE, METER, MOVE } from '../../laws/hand-duty'
import { HAND_MACHINE, handRunKW } from '../../laws/hand-machine'
import { handTrace, type Piece, repeat } from '../../laws/hand-trace'

const handKWh = (pieces: readonly Piece[]) =>
  pieces.reduce((sum, piece) => sum + (handRunKW(piece.bar) * piece.seconds) / 3600, 0)
const figures = (pieces: readonly Piece[]) => {
  const ledger = accountFor(handTrace(pieces, { fitted: ['systemFlow', 'power'] }), HAND_MACHINE)
  return { ledger, cycles: cycleFigures(ledger, findCycles(ledger.segmentation.phases)) }
}

/** Nameplate arithmetic by hand: tests/laws/hand-machine.ts. */
describe('energy of a cycle', () => {
  const cycle = [MOVE, METER, IDLE]
  it('is that of the whole cycles, the cut ones left out', () => {
    const { cycles } = figures([IDLE, ...repeat(cycle, 10), MOVE])
    expect(cycles.count).toBe(10)
    expect(cycles.meanS).toBeCloseTo(31, 6)
    expect(cycles.spreadS).toBeCloseTo(0, 6)
    expect((cycles.kWhPerCycle?.value ?? 0) / handKWh(cycle)).toBeCloseTo(1, 4)
    expect(cycles.kWhPerCycle?.basis).toBe('measured')
  })
  it('of cycles that differ: mean, spread and an interval that widens', () => {
    const long = [MOVE, METER, { ...IDLE, seconds: 40 }]
    const { cycles } = figures([IDLE, ...repeat([...cycle, ...long], 5), MOVE])
    const even = figures([IDLE, ...repeat(cycle, 10), MOVE]).cycles
    expect(cycles.count).toBe(10)
    expect(cycles.meanS).toBeCloseTo(41, 6)
    // Five of 31 and five of 51 s: sample standard deviation 10·√(10/9).
    expect(cycles.spreadS).toBeCloseTo(10 * Math.sqrt(10 / 9), 3)
    expect((cycles.kWhPerCycle?.value ?? 0) / ((handKWh(cycle) + handKWh(long)) / 2)).toBeCloseTo(1, 4)
    const width = (of: typeof cycles) => (of.kWhPerCycle?.high ?? 0) - (of.kWhPerCycle?.low ?? 0)
    expect(width(cycles)).toBeGreaterThan(2 * width(even))
  })
  it('without a cycle is not given', () => {
    expect(figures([{ ...IDLE, seconds: 100 }]).cycles).toEqual({
      count: 0,
      meanS: null,
      spreadS: null,
      kWhPerCycle: null,
    })
  })
})

describe('idle energy at other longest holds', () => {
  it('short stops right after work are idle or holds as the limit says; long ones are always idle', () => {
    const stop = (seconds: number): Piece => ({ ...IDLE, seconds })
    const { ledger } = figures(repeat([stop(40), MOVE, stop(10), MOVE, stop(20), MOVE], 3))
    const got = idleByLongestHold(ledger)
    const atIdle = (seconds: number) => (handRunKW(160) * 3 * seconds) / 3600
    expect(got['5'] / atIdle(70)).toBeCloseTo(1, 4)
    expect(got['15'] / atIdle(60)).toBeCloseTo(1, 4)
    expect(got['30'] / atIdle(40)).toBeCloseTo(1, 4)
  })
})
