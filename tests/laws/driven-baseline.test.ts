import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { driveModel } from '@/lib/machine/drive'
import type { Trace } from '@/lib/samples/trace'
import { RADS_PER_RPM } from '@/lib/units'
import { HAND_MACHINE, handFrictionKW, handLeakLpm, handMotorLossKW, handShaftKW } from './hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from './hand-trace'

/**
 * The hand-worked machine with a drive that already turns it at half speed: half the oil, torque alike, so half the
 * shaft power; load loss of the motor alike, half of its no-load loss; the drive by the table of its own test.
 */
const theoreticalLpm = 90 / 2
const flowLpm = (bar: number) => theoreticalLpm - handLeakLpm(bar)
const shaftKW = (bar: number) => handShaftKW(bar) / 2
const motorSideKW = (bar: number) => shaftKW(bar) + handMotorLossKW(handShaftKW(bar)) - handMotorLossKW(0) / 2
const drive = driveModel(HAND_MACHINE.motor)
const inputKW = (bar: number) => motorSideKW(bar) + drive.lossW(motorSideKW(bar) * 1000) / 1000

const idle = { seconds: 40, bar: 160, loadBar: 0, systemLpm: 0 }
const move = { seconds: 20, bar: 120, loadBar: 100, systemLpm: flowLpm(120) }
const drivenAt = (of: (bar: number) => number): Piece[] =>
  repeat([idle, move], 6).map((piece) => ({
    ...piece,
    kW: of(piece.bar),
    returnLpm: flowLpm(piece.bar) - (piece.systemLpm ?? 0),
  }))

function trace(pieces: readonly Piece[], fitted: readonly MeterName[]): Trace {
  const of = handTrace(pieces, { fitted })
  const rpm = HAND_MACHINE.pump.ratedSpeedRpm / 2
  const speed = {
    ...of.channels[0],
    column: 'speed',
    quantity: 'speed' as const,
    location: 'motor-shaft' as const,
    unit: 'rpm' as const,
    accuracy: { percentOfFullScale: 0.1, fullScale: 1500 },
    values: new Float64Array(of.timeS.length).fill(rpm * RADS_PER_RPM),
  }
  return { ...of, channels: [...of.channels, speed] }
}
const machine = (meter: 'before-drive' | 'after-drive'): Machine => ({
  ...HAND_MACHINE,
  motor: { ...HAND_MACHINE.motor, drive: { meter } },
})
const kWh = (of: (piece: Piece) => number) =>
  drivenAt(inputKW).reduce((sum, piece) => sum + (of(piece) * piece.seconds) / 3600, 0)
const HAND = {
  electricIn: kWh(({ bar }) => inputKW(bar)),
  motorLoss: kWh(({ bar }) => inputKW(bar) - shaftKW(bar)),
  pumpLoss: kWh(({ bar }) => (bar * handLeakLpm(bar)) / 600 + handFrictionKW(bar) / 2),
  overRelief: kWh(({ bar, systemLpm = 0 }) => (bar * (flowLpm(bar) - systemLpm)) / 600),
  intoSystem: kWh(({ bar, systemLpm = 0 }) => (bar * systemLpm) / 600),
}

describe('a machine that already has a drive', () => {
  it.each([
    ['power before the drive', 'before-drive', drivenAt(inputKW), ['loadPressure', 'systemFlow', 'power']],
    ['power behind the drive', 'after-drive', drivenAt(motorSideKW), ['loadPressure', 'systemFlow', 'power']],
    ['no electric meter', 'before-drive', drivenAt(inputKW), ['loadPressure', 'systemFlow']],
  ] as const)('%s: every watt by hand', (_name, meter, pieces, fitted) => {
    const got = ledgerKWh(accountFor(trace(pieces, fitted), machine(meter)))
    for (const [key, value] of Object.entries(HAND)) {
      const found = got[key as keyof typeof HAND].value
      expect(Math.abs(found - value) / HAND.electricIn, key).toBeLessThan(0.004)
    }
  })
  it('half speed is not the mains’: without the speed a third of the oil would be invented', () => {
    const blind = handTrace(drivenAt(inputKW), { fitted: ['loadPressure', 'systemFlow', 'power'] })
    const got = ledgerKWh(accountFor(blind, machine('before-drive')))
    expect(got.overRelief.value).toBeGreaterThan(1.3 * HAND.overRelief)
  })
})
