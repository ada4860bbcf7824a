import { describe, expect, it } from 'vitest'
import { machineSchema } from '@/lib/contract/machine'
import { withLowestCurrent } from '@/lib/ledger/default-no-load'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { ledgerProblems } from '@/lib/ledger/problems'
import { machineModel } from '@/lib/machine/machine-model'
import { readSensors } from '@/lib/samples/sensors'
import { METER, MOVE, OFF, UNLOADED } from '../../laws/hand-duty'
import {
  HAND_MACHINE,
  handCurrentA,
  handFrictionKW,
  handInputKW,
  handLeakLpm,
  handShaftKW,
} from '../../laws/hand-machine'
import { handTrace, type Piece, repeat } from '../../laws/hand-trace'

const VENTED = machineSchema.parse({ ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } })
const kWh = (seconds: number, kW: number) => (seconds * kW) / 3600

/** A reading that no relief lets through is the sensor's: an outside check found one taken for the dead head. */
describe('one spike of the pressure sensor', () => {
  const half = { ...UNLOADED, seconds: 10 }
  const stroke = [half, half, MOVE, METER]
  // The motor goes on as at 5 bar: only the pressure sensor errs.
  const spike = { ...half, seconds: 1, bar: 1200, amps: handCurrentA(handShaftKW(5)) }
  const habits = { fitted: ['systemFlow', 'current'], rateHz: 1 } as const
  const plain = accountFor(handTrace([OFF, ...repeat(stroke, 6)], habits), VENTED)
  const withSpike = [OFF, ...repeat(stroke, 3), half, spike, ...stroke.slice(1), ...repeat(stroke, 2)]
  const spiked = accountFor(handTrace(withSpike, habits), VENTED)
  it('moves no stream of the account by more than its own second', () => {
    const input = ledgerKWh(plain).electricIn.value
    for (const key of ['electricIn', 'overRelief', 'intoSystem', 'pumpLoss'] as const) {
      expect(Math.abs(ledgerKWh(spiked)[key].value - ledgerKWh(plain)[key].value)).toBeLessThan(0.01 * input)
    }
  })
  it('is said', () => {
    expect(ledgerProblems(plain).map(({ code }) => code)).not.toContain('pressure-spike')
    expect(ledgerProblems(spiked).find(({ code }) => code === 'pressure-spike')?.count).toBe(1)
  })
})

/** A turning motor never draws less than its no-load current (domain rule). */
describe('a default no-load current', () => {
  const { noLoadCurrentA: _, ...motor } = HAND_MACHINE.motor
  const unstated = machineSchema.parse({ ...HAND_MACHINE, motor })
  const trace = handTrace([OFF, { ...UNLOADED, amps: 17 }, { ...MOVE, amps: 30 }], { fitted: ['current'] })
  it('is held at the lowest running current of the log', () => {
    expect(machineModel(unstated).motor.noLoadCurrentA).toBeGreaterThan(17)
    const held = withLowestCurrent(unstated, readSensors(trace), trace)
    expect(held.motor.noLoadCurrentA).toBeCloseTo(17, 9)
  })
  it('gives way to the plate', () => {
    expect(withLowestCurrent(HAND_MACHINE, readSensors(trace), trace)).toBe(HAND_MACHINE)
  })
})

/** At part stroke leakage and loss torque stay at their full-stroke values (domain rule). */
describe('a compensated pump with a return meter and power alone', () => {
  const bar = 150
  const standbyKW = handInputKW(handFrictionKW(bar) + (handLeakLpm(bar) * bar) / 600)
  const standby: Piece = { seconds: 20, bar, systemLpm: 0, returnLpm: 0, kW: standbyKW }
  const moving: Piece = { ...MOVE, returnLpm: 0 }
  const machine = machineSchema.parse({
    ...HAND_MACHINE,
    pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' },
  })
  const ledger = accountFor(
    handTrace([OFF, ...repeat([standby, moving], 5)], { fitted: ['returnFlow', 'power'] }),
    machine,
  )
  it('stands by while it delivers nothing, and moves else', () => {
    expect([...new Set(ledger.segmentation.phases.map(({ kind }) => kind))]).toEqual([
      'stopped',
      'idle-loaded',
      'work-moving',
    ])
  })
  it('gives the flow that its shaft power leaves', () => {
    const { electricIn, intoSystem, overRelief } = ledgerKWh(ledger)
    // Moving at 80 bar: 87.75 L/min are 11.7 kW for 6 s a stroke; standing by, nothing goes on.
    expect(Math.abs(intoSystem.value - 5 * kWh(6, 11.7))).toBeLessThan(0.02 * electricIn.value)
    expect(overRelief.value).toBeCloseTo(0, 6)
  })
})
