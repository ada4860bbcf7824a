import { describe, expect, it } from 'vitest'
import { HOLD, IDLE, MOVE } from '../../../laws/hand-duty'
import { HAND_MACHINE, handFrictionKW, handInputKW, handLeakLpm, handRunKW } from '../../../laws/hand-machine'
import { repeat } from '../../../laws/hand-trace'
import { DUTY, ledgerOf, reasonsOf, STROKE_KJ, savingOn } from '../hand-options'

const id = 'pressure-compensated-pump'

/** Compensator 10 bar below the relief; leakage and loss torque stay at their full-stroke values (contract, domain). */
describe('pressure-compensated pump', () => {
  it('by hand', () => {
    const { share, settings } = savingOn(ledgerOf(), id)
    expect(settings.compensatorBar).toBeCloseTo(150, 3)
    // Standby at 150 bar: leakage 4.219 L/min is 1.0547 kW, friction 0.9333 + 1.625 = 2.5583 kW.
    const standbyKW = (150 * handLeakLpm(150)) / 600 + handFrictionKW(150)
    expect(standbyKW).toBeCloseTo(3.613, 3)
    // Metering: 42.885 L/min and the leakage at 150 bar, and friction: 14.334 kW.
    const meteringKW = (150 * (42.885 + handLeakLpm(150))) / 600 + handFrictionKW(150)
    expect(meteringKW).toBeCloseTo(14.334, 3)
    const afterKJ = 23 * handInputKW(standbyKW) + 6 * handRunKW(80) + 5 * handInputKW(meteringKW)
    expect(share.value).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
  })

  it('saves nothing while all flow is asked for', () => {
    // Idle for 20 of 600 s, else at full flow: what is saved is saved while idle.
    const pieces = repeat([IDLE, { ...MOVE, seconds: 580 }], 2)
    const { share } = savingOn(ledgerOf(pieces, HAND_MACHINE, undefined, 2), id)
    const standbyKW = (150 * handLeakLpm(150)) / 600 + handFrictionKW(150)
    const savedKJ = 20 * (handRunKW(160) - handInputKW(standbyKW))
    expect(share.value).toBeCloseTo(savedKJ / (20 * handRunKW(160) + 580 * handRunKW(80)), 4)
  })

  it('says why not', () => {
    const high = repeat([IDLE, MOVE, { ...HOLD, loadBar: 156 }, MOVE], 8)
    expect(reasonsOf(id, ledgerOf(high))).toEqual(['pressure-not-met'])
    expect(reasonsOf(id, ledgerOf([{ ...MOVE, seconds: 200 }]))).toEqual(['nothing-over-relief'])
    const already = { ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind: 'load-sensing' as const } }
    expect(reasonsOf(id, ledgerOf(DUTY, already))).toEqual(['pump-already-compensated'])
  })
})
