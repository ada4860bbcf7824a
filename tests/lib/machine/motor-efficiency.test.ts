import { describe, expect, it } from 'vitest'
import { motorModel, withLossShare } from '@/lib/machine/motor'
import { bestClass, nominalEfficiency } from '@/lib/machine/motor-efficiency'
import { HAND_MACHINE } from '../../laws/hand-machine'

const plate = (over: Partial<typeof HAND_MACHINE.motor>) => ({ ...HAND_MACHINE.motor, ...over })

/** IEC 60034-30-1 and 10 CFR 431.25, as quoted in the project's check values. */
describe('efficiency classes', () => {
  it.each([
    ['IE1', 0.75, 72.1],
    ['IE2', 22, 91.6],
    ['IE3', 7.5, 90.4],
    ['IE3', 55, 94.6],
    ['IE4', 30, 94.9],
    ['IE4', 200, 96.7],
  ] as const)('%s at %s kW, 50 Hz: %s %%', (of, ratedPowerKW, percent) => {
    expect(nominalEfficiency(of, plate({ ratedPowerKW }))).toBeCloseTo(percent / 100, 12)
  })
  it.each([
    [1, 85.5],
    [10, 91.7],
    [40, 94.1],
    [200, 96.2],
  ])('premium at %s hp, 60 Hz: %s %%', (hp, percent) => {
    const of60 = plate({ ratedPowerKW: hp * 0.7456998716, frequencyHz: 60 })
    expect(nominalEfficiency('IE3', of60)).toBeCloseTo(percent / 100, 9)
    expect(bestClass(of60)?.of).toBe('IE3')
  })
  it('between two sizes lies between their values', () => {
    const between = nominalEfficiency('IE4', plate({ ratedPowerKW: 26 })) ?? Number.NaN
    expect(between).toBeGreaterThan(0.945)
    expect(between).toBeLessThan(0.949)
  })
  it('is unknown for other poles, frequencies and sizes', () => {
    expect(bestClass(plate({ poles: 6 }))).toBeNull()
    expect(bestClass(plate({ frequencyHz: 42 }))).toBeNull()
    expect(bestClass(plate({ ratedPowerKW: 400 }))).toBeNull()
  })
  it('a motor with half the losses has half the slip', () => {
    const motor = motorModel(plate({ ratedSpeedRpm: 1460 }))
    const better = withLossShare(motor, 0.5)
    expect(better.lossW(20_000)).toBeCloseTo(motor.lossW(20_000) / 2, 9)
    const slipOf = (of: typeof better) => motor.synchronousRadS - of.speedRadS(150)
    expect(slipOf(better)).toBeCloseTo(slipOf(motor) / 2, 9)
    expect(better.ratedInputW - 30_000).toBeCloseTo((motor.ratedInputW - 30_000) / 2, 6)
  })
})
