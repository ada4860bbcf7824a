import { describe, expect, it } from 'vitest'
import { type MotorDeclaration, motorSchema } from '@/lib/contract/machine'
import { motorModel } from '@/lib/machine/motor'
import { ratedPoint } from '@/lib/machine/motor-plate'
import { motorPrior } from '@/lib/machine/motor-prior'

const BARE: MotorDeclaration = {
  ratedPowerKW: 22,
  ratedVoltageV: 400,
  ratedSpeedRpm: 1467,
  poles: 4,
  frequencyHz: 50,
}
const codes = (motor: MotorDeclaration) => ratedPoint(motor).notes.map(({ code }) => code)

describe('a motor’s rated point', () => {
  it('is the plate’s own where it is complete, and nothing is assumed', () => {
    const of = { ...BARE, ratedCurrentA: 40.2, ratedPowerFactor: 0.86, ratedEfficiency: 0.92 }
    expect(ratedPoint(of).plate).toEqual(of)
    expect(codes(of)).toEqual([])
  })
  it('US DOE: 469.7 V, 37 A, PF .763 is 22.967 kW; what is missing follows from P = √3·U·I·cos φ·η', () => {
    const doe = { ...BARE, ratedVoltageV: 469.7, ratedPowerKW: 22.967 * 0.92 }
    const current = ratedPoint({ ...doe, ratedPowerFactor: 0.763, ratedEfficiency: 0.92 })
    expect(current.plate.ratedCurrentA).toBeCloseTo(37, 2)
    expect(current.notes.map(({ code }) => code)).toEqual(['assumed-rated-current'])
    const efficiency = ratedPoint({ ...doe, ratedCurrentA: 37, ratedPowerFactor: 0.763 })
    expect(efficiency.plate.ratedEfficiency).toBeCloseTo(0.92, 3)
    expect(efficiency.notes.map(({ code }) => code)).toEqual(['assumed-efficiency-from-current'])
    const factor = ratedPoint({ ...doe, ratedCurrentA: 37, ratedEfficiency: 0.92 })
    expect(factor.plate.ratedPowerFactor).toBeCloseTo(0.763, 3)
    expect(factor.notes.map(({ code }) => code)).toEqual(['assumed-power-factor-from-current'])
  })
  it('takes a class’s efficiency from IEC 60034-30-1: IE3, 22 kW, 93.0 %', () => {
    const point = ratedPoint({ ...BARE, efficiencyClass: 'IE3', ratedPowerFactor: 0.86 })
    expect(point.plate.ratedEfficiency).toBeCloseTo(0.93, 12)
    expect(point.notes[0]).toMatchObject({
      code: 'assumed-efficiency-of-class',
      values: { efficiency: 0.93, efficiencyClass: 'IE3' },
    })
    // The class outranks what a rounded power factor and current make of it.
    const both = { ...BARE, efficiencyClass: 'IE3' as const, ratedPowerFactor: 0.86, ratedCurrentA: 41 }
    expect(ratedPoint(both).plate.ratedEfficiency).toBeCloseTo(0.93, 12)
  })
  it('with nothing but size and poles takes IE2 (91.6 %) and the table’s power factor, and says both', () => {
    const { plate, notes } = ratedPoint(BARE)
    expect(plate.ratedEfficiency).toBeCloseTo(0.916, 12)
    expect(plate.ratedPowerFactor).toBeGreaterThan(0.86)
    expect(plate.ratedPowerFactor).toBeLessThan(0.89)
    expect(plate.ratedCurrentA).toBeCloseTo(22_000 / (Math.sqrt(3) * 400 * 0.916 * plate.ratedPowerFactor), 9)
    expect(notes.map(({ code }) => code)).toEqual([
      'assumed-efficiency',
      'assumed-power-factor',
      'assumed-rated-current',
    ])
    // IE1 89.9 % and IE3 93.0 % lie within what is stated with it.
    expect(notes[0].values.low).toBeLessThan(0.902)
    expect(notes[0].values.high).toBeGreaterThan(0.93)
    expect(motorModel(BARE).currentA(22_000)).toBeCloseTo(plate.ratedCurrentA, 6)
  })
  it('the less the plate says, the wider', () => {
    const stated = motorPrior({ ...BARE, ratedEfficiency: 0.92, ratedPowerFactor: 0.86, ratedCurrentA: 40.2 })
    const ofClass = motorPrior({ ...BARE, efficiencyClass: 'IE3', ratedPowerFactor: 0.86 })
    const bare = motorPrior(BARE)
    expect(stated.ratedLoss).toBeLessThan(ofClass.ratedLoss)
    expect(ofClass.ratedLoss).toBeLessThan(bare.ratedLoss)
    expect(ofClass.voltage).toBe(stated.voltage)
    expect(bare.voltage).toBeGreaterThan(stated.voltage)
  })
  it('takes no efficiency above what any motor has from a current that cannot be', () => {
    const of = { ...BARE, ratedCurrentA: 20, ratedPowerFactor: 0.86 }
    expect(ratedPoint(of).plate.ratedEfficiency).toBeCloseTo(0.916, 12)
    expect(codes(of)).toEqual(['assumed-efficiency', 'motor-plate-contradicts'])
  })
  it('says where a complete plate contradicts itself, with both currents', () => {
    const of = { ...BARE, ratedCurrentA: 23.2, ratedPowerFactor: 0.86, ratedEfficiency: 0.92 }
    const [note] = ratedPoint(of).notes
    expect(note.code).toBe('motor-plate-contradicts')
    expect(note.values.currentA).toBe(23.2)
    expect(note.values.impliedA).toBeCloseTo(40.13, 2)
  })
})

describe('what a motor’s plate may say', () => {
  const paths = (motor: object) =>
    motorSchema.safeParse({ ...BARE, ...motor }).error?.issues.map(({ path }) => path.join('.')) ?? []
  it('takes a bare one', () => {
    expect(paths({})).toEqual([])
    expect(paths({ drive: {} })).toEqual([])
  })
  it('refuses a no-load current that is not below the rated', () => {
    expect(paths({ ratedCurrentA: 40, noLoadCurrentA: 40 })).toEqual(['noLoadCurrentA'])
    expect(paths({ ratedCurrentA: 40, noLoadCurrentA: 16 })).toEqual([])
  })
  it('wants the rated figure beside a part-load one', () => {
    expect(paths({ efficiencyAt50: 0.9, powerFactorAt75: 0.8 })).toEqual([
      'efficiencyAt50',
      'powerFactorAt75',
    ])
    expect(paths({ efficiencyAt50: 0.9, ratedEfficiency: 0.91 })).toEqual([])
  })
  it('takes a drive metered before it unless told', () => {
    expect(motorSchema.parse({ ...BARE, drive: {} }).drive).toEqual({ meter: 'before-drive' })
  })
})
