import { describe, expect, it } from 'vitest'
import { machineSchema } from '@/lib/contract/machine'
import { fullFlowM3S, machineModel, pumpShaftW } from '@/lib/machine/machine-model'

const BAR = 100_000
const LPM = 1 / 60_000

/** 18 cm³, 160 bar, η_v .92, η .85 at 1500 rpm takes 7.793 kW (trade page); motor at that speed at that load. */
const machine = machineSchema.parse({
  version: 1,
  name: 'bench',
  motor: {
    ratedPowerKW: 7.5,
    ratedVoltageV: 400,
    ratedCurrentA: 14.2,
    ratedPowerFactor: 0.86,
    ratedEfficiency: 0.887,
    ratedSpeedRpm: 1455,
    poles: 4,
    frequencyHz: 50,
  },
  pump: {
    kind: 'fixed',
    displacementCm3: 18,
    ratedPressureBar: 160,
    ratedSpeedRpm: 1500,
    volumetricEfficiency: 0.92,
    overallEfficiency: 0.85,
  },
  relief: { kind: 'direct-acting', settingBar: 180, ratedFlowLpm: 25 },
})

describe('motor and pump on one shaft', () => {
  const model = machineModel(machine)

  it('the flow follows the slip that the pump’s own torque makes', () => {
    // Torque at 160 bar from the worked example's 7.793 kW at 1500 rpm: 49.6 Nm, of the motor's rated 49.2 Nm.
    const torque = 7793 / (1500 * 2 * (Math.PI / 60))
    const rpm = 1500 - (45 * torque) / (7500 / ((1455 * 2 * Math.PI) / 60))
    const lpm = (18 * rpm) / 1000 - 27 * 0.08
    expect(fullFlowM3S(model, 160 * BAR) / LPM).toBeCloseTo(lpm, 2)
    expect(pumpShaftW(model, 160 * BAR) / ((torque * rpm * 2 * Math.PI) / 60)).toBeCloseTo(1, 4)
  })

  it('at part stroke leakage and loss torque stay, and only the delivered flow is saved (domain rule)', () => {
    const full = pumpShaftW(model, 160 * BAR)
    const nothing = pumpShaftW(model, 160 * BAR, 0)
    const half = pumpShaftW(model, 160 * BAR, 12 * LPM)
    expect(half - nothing).toBeCloseTo(160 * BAR * 12 * LPM, 3)
    // Leakage at pressure: 2.16 L/min at 160 bar is 576 W; the rest is loss torque at nearly synchronous speed.
    expect(nothing).toBeGreaterThan(576)
    expect(nothing).toBeLessThan(0.3 * full)
    expect(pumpShaftW(model, 160 * BAR, 1)).toBe(full)
  })

  it('a machine file without an unloading pressure unloads at 5 bar (stated default)', () => {
    expect(model.unloadingPa).toBe(5 * BAR)
    const stated = machineModel({ ...machine, unloading: { kind: 'vented-relief', pressureBar: 3 } })
    expect(stated.unloadingPa).toBe(3 * BAR)
  })
})
