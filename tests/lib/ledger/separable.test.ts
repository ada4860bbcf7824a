import { describe, expect, it } from 'vitest'
import { accountFor } from '@/lib/ledger/ledger'
import { ledgerProblems } from '@/lib/ledger/problems'
import { notSeparable } from '@/lib/ledger/separable'
import { HAND_MACHINE, handFlowLpm } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

/** Strokes with the relief open half way and shut, and dead-headed idles. */
const PIECES: Piece[] = repeat(
  [
    { seconds: 6, bar: 90, loadBar: 80, systemLpm: handFlowLpm(90) },
    { seconds: 12, bar: 156, loadBar: 60, systemLpm: 44 },
    { seconds: 20, bar: 160, systemLpm: 0 },
  ],
  8,
)
const accountWith = (fitted: readonly MeterName[], pieces = PIECES) =>
  accountFor(handTrace(pieces, { fitted, noise: 0.001, seed: 5 }), HAND_MACHINE)

describe('what the sensors cannot tell apart', () => {
  it('names the meter that would separate what goes over the relief from what goes into the system', () => {
    const streams = notSeparable(accountWith(['pumpFlow', 'power', 'loadPressure']))
    expect(streams).toContainEqual({ stream: 'overRelief', sensor: 'flow:system-line' })
    expect(streams).toContainEqual({ stream: 'intoSystem', sensor: 'flow:system-line' })
  })
  it('is nothing where two flow meters, the load and real power are measured', () => {
    expect(notSeparable(accountWith(['pumpFlow', 'systemFlow', 'power', 'loadPressure']))).toEqual([])
  })
  it('is work and metering without a load pressure', () => {
    expect(notSeparable(accountWith(['pumpFlow', 'systemFlow', 'power']))).toEqual([
      { stream: 'metering', sensor: 'pressure:load' },
      { stream: 'work', sensor: 'pressure:load' },
    ])
  })
})

describe('readings that contradict one another', () => {
  it('are named: three flow meters that do not add up', () => {
    const pieces = PIECES.map((piece) => ({
      ...piece,
      returnLpm: 20 + handFlowLpm(piece.bar) - (piece.systemLpm ?? 0),
    }))
    const ledger = accountWith(['pumpFlow', 'systemFlow', 'returnFlow', 'power'], pieces)
    const said = ledgerProblems(ledger).find(({ code }) => code === 'readings-contradict')
    const { pumpFlow, systemFlow, returnFlow, power } = ledger.sensors
    for (const sensor of [pumpFlow, systemFlow, returnFlow]) {
      expect(said?.values.columns).toContain(sensor?.column)
    }
    expect(said?.values.columns).not.toContain(power?.column)
  })
})

describe('several load pressures over one flow', () => {
  it('make work an upper bound, said once', () => {
    const trace = handTrace(PIECES, {
      fitted: ['systemFlow', 'power', 'loadPressure'],
      noise: 0.001,
      seed: 5,
    })
    const load = trace.channels.find(({ location }) => location === 'load')
    const codes = (channels: typeof trace.channels) =>
      ledgerProblems(accountFor({ ...trace, channels }, HAND_MACHINE)).map(({ code }) => code)
    expect(codes(trace.channels)).not.toContain('work-is-upper-bound')
    const two = load ? [...trace.channels, { ...load, column: 'Second load' }] : []
    expect(codes(two).filter((code) => code === 'work-is-upper-bound')).toHaveLength(1)
  })
})
