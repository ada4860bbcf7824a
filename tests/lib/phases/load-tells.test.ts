import { describe, expect, it } from 'vitest'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { IDLE, METER, MOVE, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handReliefBar } from '../../laws/hand-machine'
import { handTrace, type Piece, repeat } from '../../laws/hand-trace'

/** Two tenths of the flow go on, at 0.6 of a bar below what dead-headed oil takes: worked out on the relief's own line. */
const passing = 0.8 * handFlowLpm(160)
const SLOW: Piece = { ...METER, bar: handReliefBar(passing), systemLpm: handFlowLpm(160) - passing }
/** The load is locked in by a shut valve, and the pump's whole flow passes the relief. */
const LOCKED: Piece = { ...SLOW, bar: 160, systemLpm: 0 }

const accountOf = (pieces: readonly Piece[], machine = HAND_MACHINE, noise = 0.0005) =>
  accountFor(
    handTrace(repeat(pieces, 8), { fitted: ['loadPressure', 'pumpFlow', 'power'], noise, seed: 2 }),
    machine,
  )

const kindsOf = (...of: Parameters<typeof accountOf>) => [
  ...new Set(accountOf(...of).segmentation.phases.map(({ kind }) => kind)),
]
const EARLY = { ...HAND_MACHINE, relief: { ...HAND_MACHINE.relief, settingBar: 172 } }
const VENTED = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const

describe('what the load pressure tells beside a meter of the pump’s flow', () => {
  it('a load far below the pump, at less than the dead-headed pressure, is metering', () => {
    expect(kindsOf([IDLE, MOVE, SLOW])).toEqual(['idle-loaded', 'work-moving', 'work-metering'])
    const truth = ((SLOW.systemLpm ?? 0) * SLOW.bar * SLOW.seconds * 8) / 600 / 3600
    const { intoSystem } = ledgerKWh(accountOf([IDLE, MOVE, SLOW]), ['work-metering'])
    expect(intoSystem.low).toBeLessThan(truth)
    expect(intoSystem.high).toBeGreaterThan(truth)
    expect(intoSystem.value).toBeGreaterThan(0.3 * truth)
  })

  it('at the dead-headed pressure it is a hold behind a shut valve', () => {
    expect(kindsOf([IDLE, MOVE, LOCKED])).toEqual(['idle-loaded', 'work-moving', 'work-holding'])
  })

  it('no load behind a pump under pressure: the level is the dead-headed one, far from the plate’s setting as it may be', () => {
    const { segmentation } = accountOf([{ ...IDLE, seconds: 8 }, MOVE], EARLY)
    expect(segmentation.levels.deadHeadSeen).toBe(true)
    expect(segmentation.phases[0].kind).toBe('idle-loaded')
  })

  it('a machine that unloads and only meters shows no dead-headed level, and what passes is known badly', () => {
    const { segmentation } = accountOf([UNLOADED, MOVE, METER], VENTED)
    expect(segmentation.levels.deadHeadSeen).toBe(false)
    const { overRelief } = ledgerKWh(accountOf([UNLOADED, MOVE, METER], VENTED))
    expect(overRelief.high - overRelief.low).toBeGreaterThan(0.2 * overRelief.value)
  })
})
