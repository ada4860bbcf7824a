import { describe, expect, it } from 'vitest'
import { driveEfficiency, driveModel } from '@/lib/machine/drive'
import { HAND_MACHINE } from '../../laws/hand-machine'

/** US DOE motor tip sheet 11 (2012), as quoted in the project's check values. */
describe('drive efficiency', () => {
  it.each([
    [10, 0.125, 0.83],
    [10, 1, 0.96],
    [20, 0.25, 0.93],
    [30, 0.42, 0.95],
    [50, 0.125, 0.86],
    [100, 0.5, 0.96],
  ])('%s hp at %s of output: %s', (hp, share, efficiency) => {
    expect(driveEfficiency(hp, share)).toBeCloseTo(efficiency, 12)
  })
  it('lies between its neighbours in the table, and ends with it', () => {
    expect(driveEfficiency(15, 0.25)).toBeCloseTo((0.9 + 0.93) / 2, 12)
    expect(driveEfficiency(10, 0.1875)).toBeCloseTo((0.83 + 0.9) / 2, 12)
    expect(driveEfficiency(400, 1)).toBe(0.97)
    expect(driveEfficiency(2, 1)).toBe(0.96)
  })
  it('loses at least what it loses at its lowest output, and never less for more', () => {
    const drive = driveModel(HAND_MACHINE.motor)
    const ratedW = 30_000 / 0.923
    const losses = Array.from({ length: 41 }, (_, i) => drive.lossW((i / 40) * ratedW))
    expect(losses[0]).toBe(losses[5])
    expect(losses[40]).toBeCloseTo(ratedW * (1 / 0.97 - 1), 6)
    for (const loss of losses) expect(loss).toBeGreaterThan(0.8 * losses[0])
  })
  it('gives its output back from its input, and none below what it takes without load', () => {
    const drive = driveModel(HAND_MACHINE.motor)
    const ratedW = 30_000 / 0.923
    for (const share of [0.01, 0.1, 0.3, 0.55, 1, 1.5]) {
      const outputW = share * ratedW
      expect(Math.abs(drive.outputW(outputW + drive.lossW(outputW)) - outputW)).toBeLessThan(1e-4 * ratedW)
    }
    expect(drive.outputW(0.9 * drive.lossW(0))).toBe(0)
  })
  it('of a rating of its own works at another share of it', () => {
    const larger = driveModel({ ...HAND_MACHINE.motor, drive: { ratedPowerKW: 45, meter: 'before-drive' } })
    expect(larger.lossW(0)).toBeGreaterThan(driveModel(HAND_MACHINE.motor).lossW(0))
  })
})
