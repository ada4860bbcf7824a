import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nameplateCurve, reliefFlowM3S, reliefPressurePa } from '@/lib/machine/relief'

const BAR = 100_000
const LPM = 1 / 60_000

/** Cracking over setting: pilot-operated .90–.98 (a trade text says .9), direct-acting about .8: common practice. */
describe('relief valve from its nameplate', () => {
  it.each([
    ['pilot-operated', 0.9, 0.98],
    ['direct-acting', 0.75, 0.85],
  ] as const)('%s: cracks between %f and %f of its setting', (kind, low, high) => {
    const curve = nameplateCurve({ kind, settingBar: 200, ratedFlowLpm: 80 })
    expect(curve.settingPa).toBe(200 * BAR)
    expect(curve.crackingPa / curve.settingPa).toBeGreaterThanOrEqual(low)
    expect(curve.crackingPa / curve.settingPa).toBeLessThanOrEqual(high)
  })

  it('closed to cracking, rated flow at the setting, half of it half way, overrides beyond', () => {
    const curve = {
      crackingPa: 160 * BAR,
      settingPa: 200 * BAR,
      ratedFlowM3S: 80 * LPM,
      leakPerPa: 0,
      deadHeadSeen: true,
    }
    expect(reliefFlowM3S(curve, 159 * BAR)).toBe(0)
    expect(reliefFlowM3S(curve, 160 * BAR)).toBe(0)
    expect(reliefFlowM3S(curve, 180 * BAR) / LPM).toBeCloseTo(40, 9)
    expect(reliefFlowM3S(curve, 200 * BAR) / LPM).toBeCloseTo(80, 9)
    expect(reliefFlowM3S(curve, 210 * BAR) / LPM).toBeCloseTo(100, 9)
    expect(reliefPressurePa(curve, 20 * LPM) / BAR).toBeCloseTo(170, 9)
    expect(reliefPressurePa(curve, -1)).toBe(160 * BAR)
  })

  it('pressure and flow are each other’s inverse', () => {
    const curve = nameplateCurve({ kind: 'pilot-operated', settingBar: 160, ratedFlowLpm: 85 })
    fc.assert(
      fc.property(fc.double({ min: 0, max: 200, noNaN: true }), (lpm) => {
        expect(reliefFlowM3S(curve, reliefPressurePa(curve, lpm * LPM)) / LPM).toBeCloseTo(lpm, 6)
      }),
    )
  })
})
