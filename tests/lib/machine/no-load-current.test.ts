import { describe, expect, it } from 'vitest'
import type { MotorNameplate } from '@/lib/contract/machine'
import { defaultNoLoadShare } from '@/lib/machine/no-load-current'

const plate = (ratedPowerKW: number, poles = 4): MotorNameplate => ({
  ratedPowerKW,
  ratedVoltageV: 400,
  ratedCurrentA: 2 * ratedPowerKW,
  ratedPowerFactor: 0.86,
  ratedEfficiency: 0.9,
  ratedSpeedRpm: 5880 / poles,
  poles,
  frequencyHz: 50,
})

/** No-load current 30–40 % of full load, to 65 % in small motors (trade page, read at second hand). */
describe('default no-load current', () => {
  it.each([18.5, 22, 30, 45, 75, 110, 200])('%f kW, 4-pole: 30 to 40 %% of rated', (kW) => {
    expect(defaultNoLoadShare(plate(kW))).toBeGreaterThanOrEqual(0.3)
    expect(defaultNoLoadShare(plate(kW))).toBeLessThanOrEqual(0.4)
  })
  it.each([0.37, 0.75, 1.5, 3])('%f kW, small: above 45 and at most 65 %% of rated', (kW) => {
    expect(defaultNoLoadShare(plate(kW))).toBeGreaterThan(0.45)
    expect(defaultNoLoadShare(plate(kW))).toBeLessThanOrEqual(0.65)
  })
  it('never rises with size, never jumps, and stays at its end beyond the table', () => {
    let last = defaultNoLoadShare(plate(0.5))
    for (let kW = 0.5; kW < 300; kW *= 1.05) {
      const share = defaultNoLoadShare(plate(kW))
      expect(share).toBeLessThanOrEqual(last + 1e-12)
      expect(last - share).toBeLessThan(0.02)
      last = share
    }
    expect(defaultNoLoadShare(plate(250))).toBeCloseTo(defaultNoLoadShare(plate(200)), 12)
  })
  it('more poles magnetise more (common practice, no source)', () => {
    const shares = [2, 4, 6, 8].map((poles) => defaultNoLoadShare(plate(22, poles)))
    expect(shares).toEqual([...shares].sort((a, b) => a - b))
    expect(new Set(shares).size).toBe(4)
  })
})
