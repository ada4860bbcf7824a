import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import {
  currentTellsTorque,
  inputFromPowerW,
  inputFromShaftW,
  shaftFromReadingW,
} from '@/lib/machine/electric-side'
import { fullFlowM3S, machineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { M3S_PER_LPM, PA_PER_BAR, RADS_PER_RPM } from '@/lib/units'
import { HAND_MACHINE, handMotorLossKW } from '../../laws/hand-machine'

const withDrive = (meter: 'before-drive' | 'after-drive'): Machine => ({
  ...HAND_MACHINE,
  motor: { ...HAND_MACHINE.motor, drive: { meter } },
})
const NOTHING = { powerW: Number.NaN, currentA: Number.NaN }
const mains = machineModel(HAND_MACHINE)
const before = machineModel(withDrive('before-drive'))
const after = machineModel(withDrive('after-drive'))

describe('on the mains', () => {
  it('power outranks current, and neither is nothing', () => {
    const currentA = mains.motor.currentA(20_000)
    const powerW = 15_000 + mains.motor.lossW(15_000)
    expect(shaftFromReadingW(mains, { powerW, currentA })).toBeCloseTo(15_000, 6)
    expect(shaftFromReadingW(mains, { ...NOTHING, currentA }) / 20_000).toBeCloseTo(1, 3)
    expect(shaftFromReadingW(mains, NOTHING)).toBeNaN()
  })
  it('a logged voltage counts', () => {
    const currentA = mains.motor.currentA(20_000, 380)
    expect(shaftFromReadingW(mains, { ...NOTHING, currentA, voltageV: 380 }) / 20_000).toBeCloseTo(1, 3)
    expect(inputFromShaftW(mains, 20_000, { voltageV: 380 })).toBeCloseTo(
      20_000 + mains.motor.lossW(20_000, 380),
      6,
    )
  })
})

describe('a motor that already has a drive', () => {
  /** 40.2 hp drive, 735 rpm, 12 kW on the shaft: motor by hand, drive by the DOE table's efficiency between 30 and 50 hp. */
  const speedRadS = (mains.machine.motor.ratedSpeedRpm / 2) * RADS_PER_RPM
  const ratedRadS = 2 * speedRadS
  it('input is shaft, motor loss and drive loss', () => {
    const torque = 12_000 / speedRadS
    const mainsRadS = mains.motor.speedRadS(torque)
    const motorKW =
      handMotorLossKW((torque * mainsRadS) / 1000) - handMotorLossKW(0) * (1 - speedRadS / mainsRadS)
    const outputKW = 12 + motorKW
    const share = outputKW / (30 / 0.923)
    expect(share).toBeGreaterThan(0.25)
    expect(share).toBeLessThan(0.42)
    const column = (low: number, high: number) => low + ((share - 0.25) / 0.17) * (high - low)
    const hp = 30_000 / 745.6998716
    const efficiency = column(0.93, 0.95) + ((hp - 30) / 20) * (column(0.92, 0.95) - column(0.93, 0.95))
    expect(inputFromShaftW(before, 12_000, { speedRadS }) / 1000).toBeCloseTo(outputKW / efficiency, 6)
  })
  it('power before the drive and behind it tell the same shaft power', () => {
    const lineW = inputFromShaftW(before, 12_000, { speedRadS })
    expect(shaftFromReadingW(before, { ...NOTHING, powerW: lineW, speedRadS }) / 12_000).toBeCloseTo(1, 4)
    const motorSideW = after.drive?.outputW(lineW) ?? Number.NaN
    expect(inputFromPowerW(after, motorSideW) / lineW).toBeCloseTo(1, 4)
    expect(inputFromPowerW(before, lineW)).toBe(lineW)
    expect(shaftFromReadingW(after, { ...NOTHING, powerW: motorSideW, speedRadS }) / 12_000).toBeCloseTo(1, 4)
  })
  it('current behind it tells torque; current before it tells nothing of the motor', () => {
    const currentA = mains.motor.currentA(24_000)
    const reading = { ...NOTHING, currentA, speedRadS }
    expect(currentTellsTorque(before)).toBe(false)
    expect(shaftFromReadingW(before, reading)).toBeNaN()
    const atRated = shaftFromReadingW(after, { ...reading, speedRadS: ratedRadS })
    expect(shaftFromReadingW(after, reading)).toBeCloseTo(atRated / 2, 6)
  })
})

describe('the pump at a logged speed', () => {
  /** Hand machine: 60 cm³, so 60 cm³ × 750 rpm = 45 L/min less the leakage at pressure, whatever the slip. */
  it('delivers V·n less leakage, and takes torque times speed', () => {
    const speedRadS = 750 * RADS_PER_RPM
    const pressurePa = 160 * PA_PER_BAR
    const { pump } = HAND_MACHINE
    const theoreticalLpm = (pump.displacementCm3 * 750) / 1000
    const leakLpm = (1 - pump.volumetricEfficiency) * ((pump.displacementCm3 * pump.ratedSpeedRpm) / 1000)
    expect(fullFlowM3S(mains, pressurePa, speedRadS) / M3S_PER_LPM).toBeCloseTo(theoreticalLpm - leakLpm, 6)
    const torque = mains.pump.torqueNm(pressurePa)
    expect(pumpShaftW(mains, pressurePa, null, speedRadS)).toBeCloseTo(torque * speedRadS, 6)
    expect(pumpShaftW(mains, pressurePa, null, Number.NaN)).toBe(pumpShaftW(mains, pressurePa))
  })
})
