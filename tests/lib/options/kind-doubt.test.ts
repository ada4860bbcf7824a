import { describe, expect, it } from 'vitest'
import type { Correction } from '@/lib/contract/corrections'
import type { Machine } from '@/lib/contract/machine'
import { accountFor } from '@/lib/ledger/ledger'

import { METER, MOVE, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handReliefBar } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'
import { ledgerOf, savingOn } from './hand-options'

/** After the feed 8 s at the relief's pressure, a hold by the project's domain rule, and 20 s after the stroke, an idle. */
const AT_RELIEF: Piece = { seconds: 8, bar: 160, loadBar: 120, systemLpm: 0 }
const DUTY = repeat([MOVE, METER, AT_RELIEF, MOVE, { ...AT_RELIEF, seconds: 20, loadBar: 0 }], 5)
const LINE: readonly MeterName[] = ['systemFlow', 'power']

const ventingWith = (longestHoldS?: number, fitted = LINE) => {
  const machine: Machine = longestHoldS === undefined ? HAND_MACHINE : { ...HAND_MACHINE, longestHoldS }
  return savingOn(ledgerOf(DUTY, machine, fitted), 'vent-relief-at-idle').share
}

describe('a saving that hangs on what stretches at the relief’s pressure are', () => {
  it('reaches what it is if what passes for holds are idles, and no less than before', () => {
    const saved = ventingWith()
    const told = ventingWith(15)
    const shorter = ventingWith(5).value
    expect(shorter).toBeGreaterThan(1.2 * saved.value)
    expect(saved.high).toBeGreaterThan(shorter)
    expect(saved.low).toBeCloseTo(told.low, 3)
  })

  it('is in no such doubt where a person gave the longest hold, or the load pressure tells', () => {
    const doubted = ventingWith()
    for (const told of [ventingWith(15), ventingWith(undefined, ['loadPressure', ...LINE])]) {
      expect(told.value / doubted.value).toBeCloseTo(1, 2)
      expect(told.high - told.low).toBeLessThan(0.6 * (doubted.high - doubted.low))
    }
  })

  it('reaches what it is if what comes before the pump is unloaded is a hold and no wait', () => {
    const vented: Machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } }
    const of = (seconds: readonly number[]) =>
      ledgerOf(
        seconds.flatMap((atReliefS) => [MOVE, METER, { ...AT_RELIEF, seconds: atReliefS }, UNLOADED]),
        vented,
        ['pumpFlow', 'power'],
      )
    const share = (seconds: readonly number[]) => savingOn(of(seconds), 'vent-relief-at-idle').share
    const waits = share([4, 4, 4, 4, 4])
    expect(waits.value).toBeGreaterThan(0.02)
    expect(waits.low).toBeLessThan(0.15 * waits.value)
  })

  it('fits the pump anew where its wear hangs on that: a pair for what a worn pump leaves may save nothing if it is a feed', () => {
    // An eighth of the flow never comes back through the return meter: a worn pump's loss, or what a stroke takes.
    const bar = handReliefBar(74.8)
    const feed: Piece = { seconds: 20, bar, loadBar: 60, systemLpm: handFlowLpm(bar) - 74.8 }
    const trace = handTrace(repeat([MOVE, feed, feed], 5), { fitted: ['returnFlow', 'power'] })
    const asFeed = Array.from({ length: 5 }, (_, k) => ({
      startS: 46 * k + 6,
      endS: 46 * (k + 1),
      kind: 'work-metering' as const,
    }))
    const savingOf = (id: string, corrections: readonly Correction[] = []) =>
      savingOn(accountFor(trace, HAND_MACHINE, corrections), id).share
    expect(savingOf('high-low-pumps').low).toBeLessThan(0.01)
    for (const id of ['high-low-pumps', 'variable-speed-drive', 'pressure-compensated-pump']) {
      const told = savingOf(id, asFeed).value
      const doubted = savingOf(id)
      expect(doubted.low).toBeLessThan(told)
      expect(doubted.high).toBeGreaterThan(told)
    }
  })
})
