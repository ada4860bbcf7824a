import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { accountFor } from '@/lib/ledger/ledger'
import { ledgerProblems } from '@/lib/ledger/problems'
import { HOLD, IDLE, METER, MOVE, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

const DUTY = repeat([IDLE, MOVE, HOLD, METER], 4)
const problems = (machine: Machine, fitted: readonly MeterName[], pieces: readonly Piece[] = DUTY) =>
  ledgerProblems(accountFor(handTrace(pieces, { fitted }), machine))
const withMotor = (motor: Partial<Machine['motor']>): Machine => ({
  ...HAND_MACHINE,
  motor: { ...HAND_MACHINE.motor, ...motor },
})

describe('what the account says of the motor', () => {
  it('every gap of the plate once, with what stands in', () => {
    const said = problems(withMotor({ ratedEfficiency: undefined, efficiencyClass: 'IE2' }), ['current'])
    const gap = said.filter(({ code }) => code === 'assumed-efficiency-of-class')
    expect(gap).toHaveLength(1)
    // IEC 60034-30-1, IE2, 30 kW: 92.3 %.
    expect(gap[0].values.efficiency).toBeCloseTo(0.923, 12)
  })
  it('a default no-load current, unless part-load power factors tell it', () => {
    const of = (motor: Partial<Machine['motor']>) =>
      problems(withMotor({ noLoadCurrentA: undefined, ...motor }), ['current']).map(({ code }) => code)
    expect(of({})).toContain('default-no-load-current')
    expect(of({ powerFactorAt50: 0.73 })).not.toContain('default-no-load-current')
  })
  it('currents below no load with the lowest of them and their share of the running time', () => {
    const machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const
    const pieces = [...DUTY, { ...UNLOADED, seconds: 20, amps: 21 }, MOVE]
    const said = problems(machine, ['systemFlow', 'current'], pieces)
    const [below, ...more] = said.filter(({ code }) => code === 'current-clamped-to-no-load')
    expect(more).toEqual([])
    expect(below.count).toBe(200)
    expect(Number(below.values.noLoadCurrentA)).toBeGreaterThan(Number(below.values.lowestA))
    const seconds = pieces.reduce((sum, piece) => sum + piece.seconds, 0)
    expect(below.values.share).toBeCloseTo(20 / seconds, 3)
  })
  it('a drive without a speed, and a current before it that tells nothing', () => {
    const codes = problems(withMotor({ drive: { meter: 'before-drive' } }), ['current']).map(
      ({ code }) => code,
    )
    expect(codes).toContain('drive-without-speed')
    expect(codes).toContain('current-before-drive')
    const behind = problems(withMotor({ drive: { meter: 'after-drive' } }), ['current'])
    expect(behind.map(({ code }) => code)).not.toContain('current-before-drive')
  })
})
