import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { HOLD, IDLE, METER, MOVE, UNLOADED } from '../../../laws/hand-duty'
import { HAND_MACHINE, handRunKW } from '../../../laws/hand-machine'
import { repeat } from '../../../laws/hand-trace'
import { DUTY, ledgerOf, planOf, reasonsOf, STROKE_KJ, savingOn } from '../hand-options'

/** Hand calculation from nameplate formulas; 5 bar and 0.5 s a idle are the contract's defaults. */
describe.each(['vent-relief-at-idle', 'open-centre-unloading'])('%s', (id) => {
  it('idle at 5 bar but for half a second of each: by hand', () => {
    const { share, settings } = savingOn(ledgerOf(), id)
    // 20 s at 160 bar become 0.5 s at 160 bar and 19.5 s at 5 bar; the rest of the stroke stays.
    // Shaft at 160 bar: 24 + 2.667 kW; at 5 bar: 0.75 + 0.9333 + 0.0542 = 1.7375 kW.
    const savedKJ = 20 * handRunKW(160) - (0.5 * handRunKW(160) + 19.5 * handRunKW(5))
    expect(share.value).toBeCloseTo(savedKJ / STROKE_KJ, 5)
    expect(share.low).toBeLessThan(share.value)
    expect(share.high).toBeGreaterThan(share.value)
    expect(Object.values(settings)).toContain(5)
    expect(settings.delayS).toBe(0.5)
  })

  it('short idles spend half their time at full pressure', () => {
    const machine = { ...HAND_MACHINE, longestHoldS: 0.1 }
    const pieces = repeat(
      [
        { ...IDLE, seconds: 1 },
        { ...MOVE, seconds: 4 },
      ],
      30,
    )
    const { share } = savingOn(ledgerOf(pieces, machine), id)
    const before = handRunKW(160) + 4 * handRunKW(80)
    const after = 0.5 * handRunKW(160) + 0.5 * handRunKW(5) + 4 * handRunKW(80)
    expect(share.value).toBeCloseTo((before - after) / before, 5)
  })

  it('of an idle hardly longer than the delay it is not known whether it saves anything', () => {
    const machine = { ...HAND_MACHINE, longestHoldS: 0.1 }
    const pieces = repeat(
      [
        { ...IDLE, seconds: 0.6 },
        { ...MOVE, seconds: 4 },
      ],
      30,
    )
    const { share } = savingOn(ledgerOf(pieces, machine), id)
    const before = 0.6 * handRunKW(160) + 4 * handRunKW(80)
    expect(share.value).toBeCloseTo((0.1 * (handRunKW(160) - handRunKW(5))) / before, 4)
    expect(share.low).toBeLessThan(0)
    expect(share.high).toBeGreaterThan(2 * share.value)
  })

  it('an idle shorter than the delay saves nothing', () => {
    const machine = { ...HAND_MACHINE, longestHoldS: 0.1 }
    const pieces = repeat(
      [
        { ...IDLE, seconds: 0.4 },
        { ...MOVE, seconds: 4 },
      ],
      30,
    )
    expect(savingOn(ledgerOf(pieces, machine), id).share.value).toBeCloseTo(0, 9)
  })

  it('uses the machine’s own unloading pressure', () => {
    const machine = { ...HAND_MACHINE, unloading: { kind: 'none', pressureBar: 12 } } as const
    const { share, settings } = savingOn(ledgerOf(DUTY, machine), id)
    const savedKJ = 20 * handRunKW(160) - (0.5 * handRunKW(160) + 19.5 * handRunKW(12))
    expect(share.value).toBeCloseTo(savedKJ / STROKE_KJ, 5)
    expect(Object.values(settings)).toContain(12)
  })

  it('leaves holds alone: what hangs on the pressure keeps it', () => {
    const pieces = repeat([MOVE, HOLD, METER, MOVE], 8)
    expect(reasonsOf(id, ledgerOf(pieces))).toEqual(['no-idle-loaded-time'])
  })

  it('says why not', () => {
    const vented = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const
    expect(reasonsOf(id, ledgerOf(repeat([UNLOADED, MOVE], 6), vented))).toEqual(['already-unloads'])
    const stroked = { ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' as const } }
    expect(reasonsOf(id, ledgerOf(DUTY, stroked))).toEqual(['pump-already-compensated'])
  })
})

/** Only a pilot-operated relief has a vent port. */
describe('a direct-acting relief', () => {
  const direct = { ...HAND_MACHINE, relief: { ...HAND_MACHINE.relief, kind: 'direct-acting' as const } }
  const cautions = (machine: Machine) =>
    planOf('vent-relief-at-idle', ledgerOf(DUTY, machine)).cautions.map(({ code }) => code)
  it('is to be replaced before anything is vented, which is said first', () => {
    expect(cautions(direct)[0]).toBe('relief-to-be-replaced')
    expect(cautions(HAND_MACHINE)).not.toContain('relief-to-be-replaced')
  })
  it('may stay where an open centre takes the oil', () => {
    const plan = planOf('open-centre-unloading', ledgerOf(DUTY, direct))
    expect(plan.reasons).toEqual([])
    expect(plan.cautions.map(({ code }) => code)).not.toContain('relief-to-be-replaced')
  })
})
