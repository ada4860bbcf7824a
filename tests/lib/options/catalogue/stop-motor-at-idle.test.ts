import { describe, expect, it } from 'vitest'
import { IDLE, MOVE } from '../../../laws/hand-duty'
import { HAND_MACHINE, handRunKW } from '../../../laws/hand-machine'
import { type Piece, repeat } from '../../../laws/hand-trace'
import { ledgerOf, planOf, reasonsOf, savingOn } from '../hand-options'

const id = 'stop-motor-at-idle'
const idle = (seconds: number): Piece => ({ ...IDLE, seconds })
const move = (seconds: number): Piece => ({ ...MOVE, seconds })
const at1Hz = (pieces: readonly Piece[]) => ledgerOf(pieces, HAND_MACHINE, undefined, 1)
/** No shorter wait is chosen: the machine may be about to move (common practice, no source). */
const LEAST_WAIT_S = 30
/** Energy of a run-up, kJ: 1.5 s of rated input (common practice, no source). */
const RESTART_KJ = 1.5 * (30 / 0.923)

/** NEMA MG 10, 4-pole: 40 hp 7.4 starts an hour and 65 s of rest; 30 kW is 40.23 hp. */
describe('stopping the motor in long idles', () => {
  it('after the shortest wait, where nothing forbids it: by hand', () => {
    const { share, settings } = savingOn(at1Hz(repeat([move(600), idle(300)], 3)), id)
    expect(settings.waitS).toBe(LEAST_WAIT_S)
    const before = 600 * handRunKW(80) + 300 * handRunKW(160)
    const saved = (300 - LEAST_WAIT_S) * handRunKW(160) - RESTART_KJ
    expect(share.value).toBeCloseTo(saved / before, 4)
    expect(settings.startsPerHour).toBeCloseTo(7.39, 2)
    expect(settings.restS).toBeCloseTo(65.2, 1)
  })

  it('waits out idles that leave too little rest', () => {
    const { share, settings } = savingOn(at1Hz(repeat([move(600), idle(60), move(600), idle(300)], 3)), id)
    expect(settings.waitS).toBeGreaterThanOrEqual(60)
    expect(settings.waitS).toBeLessThanOrEqual(62)
    const before = 1200 * handRunKW(80) + 360 * handRunKW(160)
    const saved = (300 - Number(settings.waitS)) * handRunKW(160) - RESTART_KJ
    expect(share.value).toBeCloseTo(saved / before, 4)
  })

  it('never starts more often than the table allows', () => {
    // Ten idles an hour of 120 s, of which every second one is 200 s: only the long five may stop.
    const ledger = at1Hz(repeat([move(200), idle(120), move(200), idle(200)], 5))
    const { settings } = savingOn(ledger, id)
    expect(settings.waitS).toBeGreaterThanOrEqual(120)
    expect(settings.waitS).toBeLessThanOrEqual(135)
  })

  it.each([
    ['no-idle-time', [move(300)]],
    ['idles-too-short', repeat([move(60), idle(4)], 10)],
    ['rest-too-short', repeat([move(600), idle(40)], 5)],
    ['too-many-starts', repeat([move(20), idle(120)], 26)],
  ] as const)('refuses: %s', (code, pieces) => {
    const machine = { ...HAND_MACHINE, longestHoldS: 1 }
    expect(reasonsOf(id, ledgerOf(pieces, machine, undefined, 1))).toEqual([code])
  })

  it('a stop hardly longer than the least rest saves what the restart leaves', () => {
    const { share } = savingOn(at1Hz(repeat([move(1000), idle(97)], 3)), id)
    expect(share.value).toBeCloseTo(
      ((97 - LEAST_WAIT_S) * handRunKW(160) - RESTART_KJ) / (1000 * handRunKW(80) + 97 * handRunKW(160)),
      4,
    )
  })

  it('warns of raised loads, starts and stored energy', () => {
    const codes = planOf(id, at1Hz(repeat([move(600), idle(300)], 3))).cautions.map(({ code }) => code)
    expect(codes).toEqual(
      expect.arrayContaining(['motor-starts-limit', 'raised-load-unsupported', 'lockout-stored-energy']),
    )
  })
})
