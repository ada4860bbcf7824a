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
})
