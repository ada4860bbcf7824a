import { describe, expect, it } from 'vitest'
import type { PumpNameplate } from '@/lib/contract/machine'
import { pumpModel } from '@/lib/machine/pump'

const BAR = 100_000
const LPM = 1 / 60_000
const radS = (rpm: number) => (rpm * 2 * Math.PI) / 60

/** Worked example of a trade page: 18 cm³, 1500 rpm, η_v .92, η .85, 160 bar → 24.84 L/min, 6.624 kW, 7.793 kW. */
const EXAMPLE: PumpNameplate = {
  kind: 'fixed',
  displacementCm3: 18,
  ratedPressureBar: 160,
  ratedSpeedRpm: 1500,
  volumetricEfficiency: 0.92,
  overallEfficiency: 0.85,
}

describe('pump at its rated point', () => {
  const pump = pumpModel(EXAMPLE)
  const flow = pump.flowM3S(160 * BAR, radS(1500))
  const shaftW = pump.torqueNm(160 * BAR) * radS(1500)

  it('gives the worked example', () => {
    expect(flow / LPM).toBeCloseTo(24.84, 6)
    expect((flow * 160 * BAR) / 1000).toBeCloseTo(6.624, 6)
    expect(shaftW / 1000).toBeCloseTo(7.793, 3)
    expect(pump.ratedFlowM3S / LPM).toBeCloseTo(24.84, 6)
  })

  it('a pump of 100 cm³ that gives 90 L/min at 1000 rpm has η_v 90 % (trade page)', () => {
    const other = pumpModel({
      ...EXAMPLE,
      displacementCm3: 100,
      ratedSpeedRpm: 1000,
      volumetricEfficiency: 0.9,
    })
    expect(other.flowM3S(160 * BAR, radS(1000)) / LPM).toBeCloseTo(90, 6)
  })

  it('150 bar, 26.7 L/min, η .85 takes 7.853 kW (trade page)', () => {
    const other = pumpModel({
      ...EXAMPLE,
      displacementCm3: 26_700 / 1500 / 0.92,
      ratedPressureBar: 150,
    })
    const q = other.flowM3S(150 * BAR, radS(1500))
    expect(q / LPM).toBeCloseTo(26.7, 6)
    expect((other.torqueNm(150 * BAR) * radS(1500)) / 1000).toBeCloseTo(7.853, 3)
  })

  it('efficiencies as ISO 4391 defines them: η = η_v · η_hm, T[Nm] = Δp[bar]·V[cm³]/(20π)', () => {
    const volumetric = flow / LPM / 27
    const ideal = (160 * 18) / (20 * Math.PI)
    const hydromechanical = ideal / pump.torqueNm(160 * BAR)
    expect(volumetric).toBeCloseTo(0.92, 9)
    expect(volumetric * hydromechanical).toBeCloseTo(0.85, 9)
  })
})

describe('pump away from its rated point', () => {
  const pump = pumpModel(EXAMPLE)

  it('unloaded at 5 bar takes about 5 % of full power: between 3 and 12 % (rule of thumb, wide)', () => {
    const share = pump.torqueNm(5 * BAR) / pump.torqueNm(160 * BAR)
    expect(share).toBeGreaterThan(0.03)
    expect(share).toBeLessThan(0.12)
  })

  it('leaks in proportion to pressure, never backwards, and is never free', () => {
    expect(pump.leakageM3S(80 * BAR) / LPM).toBeCloseTo((27 * 0.08) / 2, 9)
    expect(pump.leakageM3S(-1 * BAR)).toBe(0)
    expect(pump.flowM3S(0, radS(1500)) / LPM).toBeCloseTo(27, 9)
    expect(pump.torqueNm(0)).toBeGreaterThan(0)
    // Stated default: 35 % of the rated loss torque stays without pressure (domain rule).
    const lossAtRated = pump.torqueNm(160 * BAR) - (160 * 18) / (20 * Math.PI)
    expect(pump.torqueNm(0) / lossAtRated).toBeCloseTo(0.35, 9)
  })

  it('flow goes with speed, leakage does not', () => {
    const slow = pump.flowM3S(160 * BAR, radS(750)) / LPM
    expect(slow).toBeCloseTo(27 / 2 - 27 * 0.08, 9)
  })

  it('deviations move what they name and nothing else', () => {
    const leaky = pumpModel(EXAMPLE, { leakage: 0.5 })
    expect(leaky.flowM3S(160 * BAR, radS(1500)) / LPM).toBeCloseTo(27 - 1.5 * 27 * 0.08, 9)
    expect(leaky.torqueNm(160 * BAR)).toBe(pump.torqueNm(160 * BAR))
    const large = pumpModel(EXAMPLE, { displacement: 0.02 })
    expect(large.flowM3S(0, radS(1500)) / LPM).toBeCloseTo(27 * 1.02, 9)
    expect(large.leakageM3S(160 * BAR)).toBeCloseTo(pump.leakageM3S(160 * BAR), 15)
  })
})
