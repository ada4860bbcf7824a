import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { kindIndex } from '@/lib/ledger/totals'
import { J_PER_KWH } from '@/lib/units'
import { IDLE, MOVE, OFF } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handInputKW, handShaftKW } from '../../laws/hand-machine'
import { handTrace, type Piece, repeat } from '../../laws/hand-trace'

/** The hand-worked pump with one of half its size beside it, which unloads at 95 bar and comes back at 0.85 of that. */
const PAIR: Machine = {
  ...HAND_MACHINE,
  furtherPumps: [
    { ...HAND_MACHINE.pump, displacementCm3: 30, outlet: 'common' as const, unloadsAboveBar: 95 },
  ],
}
const BAR = 88
const aloneKW = (bar: number) => handShaftKW(bar) + 0.5 * handShaftKW(5)

/** Strokes at which the second pump feeds for this share of the time, changing over quicker than meters follow. */
function ledgerOf(share: number) {
  const kW = share * 1.5 * handShaftKW(BAR) + (1 - share) * aloneKW(BAR)
  const stroke = { ...MOVE, bar: BAR, systemLpm: (1 + 0.5 * share) * handFlowLpm(BAR), kW: handInputKW(kW) }
  const idle: Piece = { ...IDLE, kW: handInputKW(aloneKW(IDLE.bar)) }
  return accountFor(
    handTrace([OFF, ...repeat([idle, stroke], 5), OFF], { fitted: ['systemFlow', 'power'] }),
    PAIR,
  )
}
const STROKES_H = (5 * MOVE.seconds) / 3600

describe('a pair that changes to and fro quicker than meters follow', () => {
  it('may put a quarter of both differences more into the system, and no less', () => {
    const ledger = ledgerOf(0.5)
    const doubt = ledger.sensitivity.doubts.find(({ source }) => source === 'to-and-fro')
    const of = (key: Parameters<typeof kindIndex>[1]) =>
      (doubt?.change[kindIndex('work-moving', key)] ?? 0) / J_PER_KWH +
      (doubt?.change[kindIndex('work-metering', key)] ?? 0) / J_PER_KWH
    const kWh = ((0.15 * 95 * 0.5 * handFlowLpm(BAR)) / 4 / 600) * STROKES_H
    expect(of('intoSystem') / kWh).toBeCloseTo(1, 1)
    expect(of('metering')).toBeCloseTo(of('intoSystem'), 9)
    expect(of('pumpLoss')).toBeCloseTo(-of('intoSystem'), 9)
    const { value, low, high } = ledgerKWh(ledger).intoSystem
    expect(high - value).toBeGreaterThan(Math.hypot(value - low, 0.9 * kWh) - 1e-9)
  })

  it('that keeps to one state is in no such doubt', () => {
    for (const share of [0, 1]) {
      expect(ledgerOf(share).sensitivity.doubts.map(({ source }) => source)).not.toContain('to-and-fro')
    }
  })
})
