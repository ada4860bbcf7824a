import { describe, expect, it } from 'vitest'
import { PHASE_KINDS } from '@/lib/contract/result'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { ledgerProblems } from '@/lib/ledger/problems'
import { notSeparable } from '@/lib/ledger/separable'
import { wholeAccount } from '../../invented/whole-account'
import { HOLD, IDLE, METER, MOVE, OFF, UNLOADED } from '../../laws/hand-duty'
import {
  HAND_MACHINE,
  handCurrentA,
  handFlowLpm,
  handFrictionKW,
  handLeakLpm,
  handMotorLossKW,
  handRunKW,
  handShaftKW,
} from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

/** Energies of the duty worked out by hand from nameplate formulas (tests/laws/hand-machine.ts), kWh. */
const CYCLES = 10
const CYCLE: readonly Piece[] = [IDLE, MOVE, HOLD, METER]
const DUTY = repeat(CYCLE, CYCLES)
const kWh = (of: (piece: Piece) => number, pieces: readonly Piece[] = DUTY) =>
  pieces.reduce((sum, piece) => sum + of(piece) * piece.seconds, 0) / 3600
/** kW from bar and L/min. */
const hydraulicKW = (bar: number, lpm: number) => (bar * lpm) / 600

const HAND = {
  electricIn: kWh((piece) => handRunKW(piece.bar)),
  motorLoss: kWh((piece) => handMotorLossKW(handShaftKW(piece.bar))),
  pumpLoss: kWh((piece) => hydraulicKW(piece.bar, handLeakLpm(piece.bar)) + handFrictionKW(piece.bar)),
  overRelief: kWh((piece) => hydraulicKW(piece.bar, handFlowLpm(piece.bar) - (piece.systemLpm ?? 0))),
  unloading: 0,
  intoSystem: kWh((piece) => hydraulicKW(piece.bar, piece.systemLpm ?? 0)),
  metering: kWh((piece) => hydraulicKW(piece.bar - (piece.loadBar ?? 0), piece.systemLpm ?? 0)),
  work: kWh((piece) => hydraulicKW(piece.loadBar ?? 0, piece.systemLpm ?? 0)),
  unaccounted: 0,
}

describe('a duty worked out by hand', () => {
  const suites: readonly (readonly MeterName[])[] = [
    ['loadPressure', 'pumpFlow', 'systemFlow', 'returnFlow', 'power'],
    ['loadPressure', 'systemFlow', 'power'],
    ['loadPressure', 'systemFlow', 'current'],
    ['loadPressure', 'pumpFlow', 'current'],
    ['loadPressure', 'returnFlow', 'current'],
    ['loadPressure', 'current'],
    ['loadPressure'],
  ]
  it.each(suites)('meters %s give every watt of it', (...fitted) => {
    const got = ledgerKWh(accountFor(handTrace(DUTY, { fitted }), HAND_MACHINE))
    for (const [key, value] of Object.entries(HAND)) {
      const found = got[key as keyof typeof HAND]?.value ?? Number.NaN
      expect(Math.abs(found - value), key).toBeLessThan(2e-4 * HAND.electricIn)
    }
  })

  it('without a load pressure, metering and work are not separable, and the sensor is named', () => {
    const ledger = accountFor(handTrace(DUTY, { fitted: ['systemFlow', 'current'] }), HAND_MACHINE)
    const got = ledgerKWh(ledger)
    expect(got.metering).toBeNull()
    expect(got.work).toBeNull()
    expect(Math.abs(got.intoSystem.value - HAND.intoSystem)).toBeLessThan(2e-4 * HAND.electricIn)
    expect(notSeparable(ledger)).toEqual([
      { stream: 'metering', sensor: 'pressure:load' },
      { stream: 'work', sensor: 'pressure:load' },
    ])
  })

  it('says what a figure rests on: measured, estimated or default', () => {
    const basis = (fitted: readonly MeterName[]) => {
      const got = ledgerKWh(accountFor(handTrace(DUTY, { fitted }), HAND_MACHINE))
      return [got.electricIn.basis, got.overRelief.basis, got.intoSystem.basis]
    }
    expect(basis(['systemFlow', 'returnFlow', 'power'])).toEqual(['measured', 'measured', 'measured'])
    expect(basis(['systemFlow', 'current'])).toEqual(['estimated', 'estimated', 'measured'])
    expect(basis([])).toEqual(['default', 'default', 'default'])
  })
})

describe('unloaded and stopped', () => {
  it('the whole flow to tank at 5 bar is unloading and nothing else', () => {
    const pieces = [UNLOADED, MOVE, UNLOADED, MOVE, UNLOADED]
    const machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const
    for (const fitted of [
      ['systemFlow', 'power'],
      ['returnFlow', 'power'],
      ['pumpFlow', 'power'],
    ] as const) {
      const ledger = accountFor(handTrace(pieces, { fitted }), machine)
      const got = ledgerKWh(ledger, ['idle-unloaded'])
      const want = kWh((piece) => hydraulicKW(5, handFlowLpm(piece.bar)), [UNLOADED, UNLOADED, UNLOADED])
      expect(got.unloading.value / want).toBeCloseTo(1, 3)
      expect(got.overRelief.value).toBe(0)
      expect(ledgerKWh(ledger).overRelief.value).toBeCloseTo(0, 9)
    }
  })

  it('a stopped motor with a clamp that shows 0.6 A draws nothing', () => {
    const pieces: Piece[] = [{ ...OFF, seconds: 60, amps: 0.6 }, ...repeat(CYCLE, 3)]
    const ledger = accountFor(handTrace(pieces, { fitted: ['systemFlow', 'current'] }), HAND_MACHINE)
    expect(ledgerKWh(ledger, ['stopped']).electricIn.value).toBe(0)
  })
})

describe('offsets that show at rest', () => {
  const pieces: Piece[] = [{ ...OFF, seconds: 30 }, ...DUTY]
  const fitted = ['loadPressure', 'systemFlow', 'power'] as const
  // Each within the stated accuracy (1 % of the largest reading), all against the true account.
  const offsets = { pumpPressure: 1.4, systemFlow: 0.8, power: 0.28 }

  it('are taken out: the account is the true one within 0.2 % of the input', () => {
    const got = ledgerKWh(accountFor(handTrace(pieces, { fitted, offsets, noise: 0.0005 }), HAND_MACHINE))
    for (const [key, value] of Object.entries(HAND)) {
      if (key === 'metering' || key === 'work') continue
      const found = got[key as keyof typeof HAND]?.value ?? Number.NaN
      expect(Math.abs(found - value), key).toBeLessThan(2e-3 * HAND.electricIn)
    }
  })

  it('left in, they would have moved it by more', () => {
    // 1.4 bar over 85.5 L/min for 23 of 34 s alone.
    const moved = kWh((piece) => hydraulicKW(1.4, handFlowLpm(piece.bar)))
    expect(moved).toBeGreaterThan(5e-3 * HAND.electricIn)
  })

  it('an offset not seen at rest stays within the interval', () => {
    const got = ledgerKWh(
      accountFor(handTrace(DUTY, { fitted, offsets: { systemFlow: 0.8, power: 0.28 } }), HAND_MACHINE),
    )
    for (const key of ['electricIn', 'overRelief', 'intoSystem'] as const) {
      expect(got[key].low).toBeLessThan(HAND[key])
      expect(got[key].high).toBeGreaterThan(HAND[key])
    }
  })
})

describe('missing cells', () => {
  const lose = (
    column: MeterName | 'pumpPressure',
    from: number,
    count: number,
    fitted: readonly MeterName[],
  ) => {
    const trace = handTrace(DUTY, { fitted, noise: 0.001 })
    for (const channel of trace.channels) {
      if (channel.column === column) channel.values.fill(Number.NaN, from, from + count)
    }
    return accountFor(trace, HAND_MACHINE)
  }
  const cases = [
    ['pumpPressure', ['loadPressure', 'systemFlow', 'current']],
    ['pumpPressure', ['loadPressure', 'systemFlow', 'power']],
    ['systemFlow', ['loadPressure', 'systemFlow', 'current']],
    ['loadPressure', ['loadPressure', 'systemFlow', 'power']],
    ['current', ['loadPressure', 'systemFlow', 'current']],
    ['power', ['loadPressure', 'systemFlow', 'power']],
  ] as const

  it.each(cases)('%s away for 5 s of an idle (meters %s): the account stays whole', (column, fitted) => {
    const ledger = lose(column, 50, 50, fitted)
    for (const key of Object.keys(HAND) as (keyof typeof HAND)[]) {
      const found = ledgerKWh(ledger)[key]?.value ?? Number.NaN
      expect(Number.isFinite(found), key).toBe(true)
      // 5 of 340 s can be somewhere else, and no more.
      expect(Math.abs(found - HAND[key]), key).toBeLessThan(0.02 * HAND.electricIn)
    }
    let worst = 0
    const series = wholeAccount(ledger.account)
    for (let i = 0; i < series.electricIn.length; i++) {
      const parts =
        series.motorLoss[i] +
        series.pumpLoss[i] +
        series.overRelief[i] +
        series.unloading[i] +
        series.intoSystem[i] +
        series.unaccounted[i]
      worst = Math.max(worst, Math.abs(parts - series.electricIn[i]))
    }
    expect(worst).toBeLessThan(1e-7)
  })

  it.each(cases)(
    '%s away through a whole stroke (meters %s): every figure stays a number',
    (column, fitted) => {
      const ledger = lose(column, 340, 340, fitted)
      for (const kinds of [PHASE_KINDS, ...PHASE_KINDS.map((kind) => [kind])]) {
        for (const one of Object.values(ledgerKWh(ledger, kinds))) {
          if (one) expect([one.value, one.low, one.high].every(Number.isFinite)).toBe(true)
        }
      }
    },
  )
})

describe('what the account says of its sensors', () => {
  const codes = (pieces: readonly Piece[], fitted: readonly MeterName[]) =>
    ledgerProblems(accountFor(handTrace(pieces, { fitted }), HAND_MACHINE)).map(({ code }) => code)

  it('nothing, where they agree', () => {
    expect(codes(DUTY, ['loadPressure', 'pumpFlow', 'systemFlow', 'returnFlow', 'power'])).toEqual([])
  })
  it('a power that the pump cannot take contradicts the readings', () => {
    const wrong = DUTY.map((piece) => ({ ...piece, kW: 0.5 * handRunKW(piece.bar) }))
    expect(codes(wrong, ['systemFlow', 'power'])).toContain('readings-contradict')
  })
  it('a running current below the no-load current is counted once, with its samples', () => {
    const pieces = [...DUTY, { ...UNLOADED, seconds: 20, amps: 21 }, MOVE]
    const machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const
    const problems = ledgerProblems(
      accountFor(handTrace(pieces, { fitted: ['systemFlow', 'current'] }), machine),
    )
    const clamped = problems.filter(({ code }) => code === 'current-clamped-to-no-load')
    expect(clamped).toHaveLength(1)
    expect(clamped[0].count).toBe(200)
    expect(handCurrentA(0)).toBeCloseTo(22, 6)
  })
  it('no electric channel, and a default no-load current, are said', () => {
    expect(codes(DUTY, ['systemFlow'])).toContain('no-electric-channel')
    const { noLoadCurrentA: _, ...motor } = HAND_MACHINE.motor
    const problems = ledgerProblems(
      accountFor(handTrace(DUTY, { fitted: ['systemFlow', 'current'] }), { ...HAND_MACHINE, motor }),
    )
    expect(problems.map(({ code }) => code)).toContain('default-no-load-current')
  })
})
