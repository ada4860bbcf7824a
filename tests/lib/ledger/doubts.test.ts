import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { doubtProblems } from '@/lib/ledger/doubt-problems'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { IDLE_KINDS } from '@/lib/ledger/idle'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { kindIndex } from '@/lib/ledger/totals'
import { J_PER_KWH } from '@/lib/units'
import { METER, MOVE, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handReliefBar, handRunKW } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

/** Holds, waits and loads by the project's domain rules (sections 3 and 5); energies from nameplate formulas by hand. */
const VENTED: Machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } }
const AT_RELIEF: Piece = { seconds: 4, bar: 160, loadBar: 0, systemLpm: 0 }
const WAIT_S = [4, 4, 4, 4]
const HOLD_S = [5.2, 6.4, 4.6, 7]
const PUMP: readonly MeterName[] = ['pumpFlow', 'power']

const cycles = (atReliefS: readonly number[]) =>
  atReliefS.flatMap((seconds): Piece[] => [MOVE, METER, MOVE, { ...AT_RELIEF, seconds }, UNLOADED])
const ledgerOf = (atReliefS: readonly number[], fitted = PUMP) =>
  accountFor(handTrace([UNLOADED, ...cycles(atReliefS)], { fitted }), VENTED)
const atReliefKWh = (atReliefS: readonly number[]) =>
  (handRunKW(160) * atReliefS.reduce((sum, seconds) => sum + seconds, 0)) / 3600

function changeOf({ sensitivity }: Ledger, source: string) {
  const change = sensitivity.doubts.find((doubt) => doubt.source === source)?.change
  return (
    change &&
    ((kind: Parameters<typeof kindIndex>[0], key: Parameters<typeof kindIndex>[1]) =>
      change[kindIndex(kind, key)] / J_PER_KWH)
  )
}

describe('what pressure alone leaves open', () => {
  it('moves the energy of a timer’s waits from idle to holding, and no oil', () => {
    const change = changeOf(ledgerOf(WAIT_S), 'hold-or-wait')
    const kWh = atReliefKWh(WAIT_S)
    expect(change?.('idle-loaded', 'electricIn')).toBeCloseTo(-kWh, 2)
    expect(change?.('work-holding', 'electricIn')).toBeCloseTo(kWh, 2)
    const oil = (change?.('idle-loaded', 'overRelief') ?? 0) + (change?.('work-holding', 'overRelief') ?? 0)
    expect(oil).toBeCloseTo(0, 9)
  })

  it('is in the interval of the idle energy, on the side where the truth may lie', () => {
    const idle = (of: Ledger) => ledgerKWh(of, IDLE_KINDS).electricIn
    const waits = idle(ledgerOf(WAIT_S))
    expect(waits.value - waits.low).toBeGreaterThan(0.98 * atReliefKWh(WAIT_S))
    expect(waits.high - waits.value).toBeLessThan(0.5 * atReliefKWh(WAIT_S))
    const holds = idle(ledgerOf(HOLD_S))
    expect(holds.high - holds.value).toBeGreaterThan(0.98 * atReliefKWh(HOLD_S))
    expect(holds.value - holds.low).toBeLessThan(0.5 * atReliefKWh(HOLD_S))
  })

  it('is named with the time it lasts and what it was taken for', () => {
    const [waits] = doubtProblems(ledgerOf(WAIT_S))
    expect(waits).toMatchObject({ code: 'hold-or-wait-unsure', values: { takenFor: 'idle' } })
    expect(waits.values?.seconds).toBeCloseTo(16, 0)
    expect(doubtProblems(ledgerOf(HOLD_S))[0].values?.takenFor).toBe('work')
  })

  it('is nothing where a signal tells', () => {
    const ledger = ledgerOf(WAIT_S, ['pumpFlow', 'power', 'cycle'])
    expect(changeOf(ledger, 'hold-or-wait')).toBeUndefined()
    expect(doubtProblems(ledger)).toEqual([])
  })

  it('stays where a line meter shows that no oil moves', () => {
    const ledger = ledgerOf(WAIT_S, ['systemFlow', 'power'])
    expect(changeOf(ledger, 'hold-or-wait')).toBeDefined()
  })

  it('closes: what one term loses another gains, over all kinds', () => {
    for (const { change } of ledgerOf(HOLD_S).sensitivity.doubts) {
      const over = (key: Parameters<typeof kindIndex>[1]) =>
        (['idle-loaded', 'work-holding', 'work-metering', 'work-moving'] as const).reduce(
          (sum, kind) => sum + change[kindIndex(kind, key)],
          0,
        )
      expect(over('electricIn')).toBeCloseTo(0, 6)
      expect(over('overRelief') + over('intoSystem')).toBeCloseTo(0, 6)
    }
  })

  it('a hold may leak a hundredth of its flow into the system, as no meter sees', () => {
    const ledger = ledgerOf(HOLD_S)
    const change = changeOf(ledger, 'hold-leakage')
    const passing = ledgerKWh(ledger, ['work-holding']).overRelief.value
    expect(change?.('work-holding', 'intoSystem')).toBeCloseTo(0.01 * passing, 9)
    expect(change?.('work-holding', 'overRelief')).toBeCloseTo(-0.01 * passing, 9)
    expect(changeOf(ledgerOf(HOLD_S, ['systemFlow', 'power']), 'hold-leakage')).toBeUndefined()
    expect(changeOf(ledgerOf(HOLD_S, ['pumpFlow', 'returnFlow', 'power']), 'hold-leakage')).toBeUndefined()
  })

  it('so may a loaded idle; what the return meter does not read is then no loss of the pump', () => {
    const ledger = accountFor(
      handTrace(repeat([MOVE, METER, { ...AT_RELIEF, seconds: 20 }], 4), { fitted: ['returnFlow', 'power'] }),
      HAND_MACHINE,
    )
    const change = changeOf(ledger, 'hold-leakage')
    const passing = ledgerKWh(ledger, ['idle-loaded']).overRelief.value
    expect(passing).toBeGreaterThan(0.1)
    expect(change?.('idle-loaded', 'intoSystem')).toBeCloseTo(0.01 * passing, 9)
    expect(change?.('idle-loaded', 'pumpLoss')).toBeCloseTo(-0.01 * passing, 9)
    expect(change?.('idle-loaded', 'overRelief')).toBe(0)
    const { value, low, high } = ledgerKWh(ledger).intoSystem
    expect(high - value).toBeGreaterThan(Math.hypot(value - low, 0.009 * passing) - 1e-9)
  })
})

/** A relief that opens at 112 bar of 160: half of the flow passes it at 136 bar, whatever the load. */
const EARLY: Piece = { ...METER, bar: 136, systemLpm: 43, seconds: 8 }
const loadOf = (bar: number): Piece => ({ ...MOVE, bar, loadBar: bar - 10 })
const IDLE: Piece = { seconds: 25, bar: 160, loadBar: 0, systemLpm: 0 }
const earlyDuty = (loads: readonly number[]) => loads.flatMap((bar) => [IDLE, loadOf(bar), EARLY])

describe('a relief that may open early', () => {
  const LOADS = [40, 46, 43, 50, 38]
  const of = (loads: readonly number[], fitted = PUMP) =>
    accountFor(handTrace([...earlyDuty(loads), IDLE], { fitted }), HAND_MACHINE)
  const earlyKWh = (LOADS.length * EARLY.seconds * (136 * 85.9)) / 600 / 3600

  it('is seen where its level comes back while loads differ; the interval holds a constant load too', () => {
    const ledger = of(LOADS)
    expect(ledger.segmentation.phases.some(({ kind }) => kind === 'work-metering')).toBe(true)
    const change = changeOf(ledger, 'load-or-early-relief')
    const relief = ledgerKWh(ledger, ['work-metering']).overRelief
    expect(change?.('work-metering', 'overRelief')).toBeCloseTo(-relief.value, 3)
    expect(change?.('work-moving', 'intoSystem')).toBeCloseTo(earlyKWh, 2)
    const whole = ledgerKWh(ledger).overRelief
    expect(whole.value - whole.low).toBeGreaterThan(0.98 * relief.value)
    expect(relief.value).toBeGreaterThan(0.2 * earlyKWh)
    expect(doubtProblems(ledger).map(({ code }) => code)).toEqual(['early-relief-taken'])
  })

  it('is not guessed where all loads come back alike, nor where a line meter tells', () => {
    for (const ledger of [of([43, 43, 43, 43, 43]), of(LOADS, ['systemFlow', 'power'])]) {
      expect(changeOf(ledger, 'load-or-early-relief')).toBeUndefined()
      expect(doubtProblems(ledger)).toEqual([])
    }
  })
})

/** A feed that never takes more than an eighth of the flow: the rest comes back over the relief. */
const BACK_LPM = 74.8
const FEED_BAR = handReliefBar(BACK_LPM)
const FEED_LPM = handFlowLpm(FEED_BAR) - BACK_LPM
const FEED: Piece = { seconds: 20, bar: FEED_BAR, loadBar: 60, systemLpm: FEED_LPM, cycle: 1 }

describe('a pump that seems worn to a return meter alone', () => {
  const of = (fitted: readonly MeterName[], between: Piece, machine: Machine) =>
    accountFor(handTrace(repeat([MOVE, FEED, between], 5), { fitted }), machine)
  const feedKWh = (5 * FEED.seconds * FEED_BAR * FEED_LPM) / 600 / 3600
  const moveKWh = (5 * MOVE.seconds * MOVE.bar * handFlowLpm(MOVE.bar)) / 600 / 3600
  const unsure = (ledger: Ledger) => doubtProblems(ledger).find(({ code }) => code === 'worn-pump-unsure')

  it('is taken for sound where the machine idles unloaded; the intervals hold wear too', () => {
    const ledger = of(['returnFlow', 'power'], UNLOADED, VENTED)
    const { intoSystem, pumpLoss } = ledgerKWh(ledger)
    expect(intoSystem.value).toBeGreaterThan(moveKWh + 0.9 * feedKWh)
    expect(intoSystem.low).toBeLessThan(moveKWh + 0.1 * feedKWh)
    expect(pumpLoss.high).toBeGreaterThan(pumpLoss.value + 0.9 * feedKWh)
    expect(unsure(ledger)?.values?.takenFor).toBe('feed')
  })

  it('is taken for worn where all its flow must pass the relief when the machine idles; the intervals hold a feed too', () => {
    const ledger = of(['returnFlow', 'power'], FEED, HAND_MACHINE)
    const { intoSystem, pumpLoss } = ledgerKWh(ledger)
    expect(intoSystem.value).toBeLessThan(moveKWh + 0.2 * feedKWh)
    expect(intoSystem.high).toBeGreaterThan(moveKWh + 1.9 * feedKWh)
    expect(pumpLoss.low).toBeLessThan(pumpLoss.value - 1.8 * feedKWh)
    expect(unsure(ledger)?.values?.takenFor).toBe('wear')
  })

  it('is in no doubt where another flow meter tells', () => {
    for (const fitted of [
      ['returnFlow', 'systemFlow', 'power'],
      ['returnFlow', 'pumpFlow', 'power'],
    ] as const) {
      expect(changeOf(of(fitted, UNLOADED, VENTED), 'worn-pump-or-feed')).toBeUndefined()
    }
  })
})

/** A relief that opens at 112 bar of 160 passes a quarter of the flow at 124 bar; every load of the log is fed past it. */
const PAST_EARLY: Piece = { ...METER, bar: 124, systemLpm: 65.1, loadBar: 60, seconds: 10 }

describe('a line meter beside a relief that opens early', () => {
  it('does not take flow that not even a worn pump loses for the whole of it', () => {
    const ledger = accountFor(
      handTrace([...repeat([IDLE, PAST_EARLY, { ...EARLY, seconds: 10 }], 6), IDLE], {
        fitted: ['systemFlow', 'power'],
      }),
      HAND_MACHINE,
    )
    const metered = ledger.segmentation.steps.filter(({ kind }) => kind === 'work-metering')
    const seconds = metered.reduce((sum, { durationS }) => sum + durationS, 0)
    expect(seconds).toBeCloseTo(120, 0)
    const { overRelief } = ledgerKWh(ledger, ['work-metering'])
    const passed = (bar: number, lpm: number) => (60 * bar * (handFlowLpm(bar) - lpm)) / 600 / 3600
    const truth = passed(124, 65.1) + passed(136, 43)
    expect(Math.abs(overRelief.value - truth)).toBeLessThan(0.1 * truth)
  })
})
