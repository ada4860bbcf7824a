import { describe, expect, it } from 'vitest'
import { type Flows, solveNode, type Valves } from '@/app/_plant/hydraulics'
import { leakage, lossTorque, makePump, relativeViscosity } from '@/app/_plant/make-pump'
import { makeRelief, reliefFlow } from '@/app/_plant/make-relief'
import { seededRandom } from '@/lib/numeric/random'
import { M3S_PER_GPM, M3S_PER_LPM, PA_PER_BAR, PA_PER_PSI, RADS_PER_RPM, W_PER_HP } from '@/lib/units'

const still = (): Flows => ({
  pressurePa: 0,
  pumpM3S: 0,
  leakM3S: 0,
  actuatorM3S: 0,
  reliefM3S: 0,
  centreM3S: 0,
  stroke: 1,
  speedShare: 1,
})

describe('node at the pump outlet', () => {
  it('splits the relief account example: 20 gpm, relief at 2500 psi, 9 gpm at 1300 psi', () => {
    // Data of a trade page; split computed: 29.17 hp = 16.04 over relief + 6.30 metering + 6.83 work.
    const speedRadS = 100
    const { pump } = makePump(
      { displacementCm3: 10, ratedPressureBar: 200, volumetricEfficiency: 0.9, overallEfficiency: 0.8 },
      seededRandom(1),
    )
    const tight = { ...pump, volumeM3: (20 * M3S_PER_GPM) / speedRadS, leakM3S: 0 }
    const settingPa = 2500 * PA_PER_PSI
    const relief = {
      settingPa,
      crackRatio: 0.9,
      ratedM3S: 11 * M3S_PER_GPM,
      curve: 1,
      toe: 0.03,
      seatLeak: 0,
    }
    const valves: Valves = {
      conductance: 1,
      flowLimitM3S: 9 * M3S_PER_GPM,
      loadPa: 1300 * PA_PER_PSI,
      settingPa,
      crackPa: settingPa * 0.9,
      centre: 0,
      compensatorPa: Number.POSITIVE_INFINITY,
      leastSpeed: null,
      helpers: [],
    }
    const flows = still()
    solveNode(tight, relief, valves, speedRadS, 1, flows)
    const p = flows.pressurePa
    expect((p * flows.pumpM3S) / W_PER_HP).toBeCloseTo(29.17, 2)
    expect((p * flows.reliefM3S) / W_PER_HP).toBeCloseTo(16.04, 2)
    expect(((p - valves.loadPa) * flows.actuatorM3S) / W_PER_HP).toBeCloseTo(6.3, 2)
    expect(Math.abs((valves.loadPa * flows.actuatorM3S) / W_PER_HP - 6.83)).toBeLessThan(0.006)
  })
})

describe('pump as it really is', () => {
  const wish = {
    displacementCm3: 60,
    ratedPressureBar: 160,
    volumetricEfficiency: 0.93,
    overallEfficiency: 0.856,
  }

  it('reaches its plate at the rated point within the copy-to-copy spread', () => {
    for (const copy of [1, 2, 3, 4, 5, 6]) {
      const { pump, nameplate } = makePump(wish, seededRandom(copy * 13))
      const p = 160 * PA_PER_BAR
      const flow = pump.volumeM3 * pump.ratedRadS - leakage(pump, p, 1)
      const shaftW = (pump.volumeM3 * p + lossTorque(pump, p, pump.ratedRadS, 1)) * pump.ratedRadS
      expect(flow / (pump.volumeM3 * pump.ratedRadS)).toBeGreaterThan(nameplate.volumetricEfficiency - 0.005)
      expect(flow / (pump.volumeM3 * pump.ratedRadS)).toBeLessThan(nameplate.volumetricEfficiency + 0.005)
      expect(Math.abs((p * flow) / shaftW - nameplate.overallEfficiency)).toBeLessThan(0.012)
    }
  })

  it('unloaded still takes a few per cent of rated power (rule of thumb: about 5 %)', () => {
    const { pump } = makePump(wish, seededRandom(2))
    const power = (bar: number) =>
      (pump.volumeM3 * bar * PA_PER_BAR + lossTorque(pump, bar * PA_PER_BAR, pump.ratedRadS, 1)) *
      pump.ratedRadS
    expect(power(4) / power(160)).toBeGreaterThan(0.03)
    expect(power(4) / power(160)).toBeLessThan(0.09)
  })

  it('leaks more and shears less as the oil warms', () => {
    const { pump } = makePump(wish, seededRandom(2))
    const p = 160 * PA_PER_BAR
    const [cold, hot] = [relativeViscosity(35), relativeViscosity(55)]
    expect(leakage(pump, p, hot)).toBeGreaterThan(leakage(pump, p, cold) * 1.1)
    expect(lossTorque(pump, p, pump.ratedRadS, hot)).toBeLessThan(lossTorque(pump, p, pump.ratedRadS, cold))
    expect(pump.ratedRadS).toBeCloseTo(1470 * RADS_PER_RPM, 9)
  })
})

describe('relief as it really is', () => {
  const settings = { settingBar: 160, ratedFlowLpm: 85 } as const

  it('passes rated flow at the setting and next to nothing below cracking', () => {
    for (const kind of ['pilot-operated', 'direct-acting'] as const) {
      const { relief } = makeRelief({ kind, ...settings }, seededRandom(4))
      const crackPa = relief.crackRatio * relief.settingPa
      const at = (pressurePa: number) =>
        reliefFlow(relief, pressurePa, relief.settingPa, crackPa) / M3S_PER_LPM
      expect(at(relief.settingPa)).toBeCloseTo(85, 0)
      expect(at(crackPa - 0.3 * (relief.settingPa - crackPa))).toBeLessThan(0.1)
      expect(at(relief.settingPa * 1.01)).toBeGreaterThan(85)
    }
  })

  it('cracks where its kind should (common practice), unless it is worn', () => {
    for (const copy of [1, 2, 3, 4, 5]) {
      const pilot = makeRelief({ kind: 'pilot-operated', ...settings }, seededRandom(copy)).relief.crackRatio
      const direct = makeRelief({ kind: 'direct-acting', ...settings }, seededRandom(copy)).relief.crackRatio
      expect(pilot).toBeGreaterThanOrEqual(0.9)
      expect(pilot).toBeLessThanOrEqual(0.98)
      expect(Math.abs(direct - 0.8)).toBeLessThanOrEqual(0.02)
    }
    const worn = makeRelief({ kind: 'pilot-operated', ...settings, crackRatio: 0.66 }, seededRandom(1))
    expect(worn.relief.crackRatio).toBe(0.66)
  })
})
