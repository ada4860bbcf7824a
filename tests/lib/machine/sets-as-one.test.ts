import { describe, expect, it } from 'vitest'
import { machineSchema } from '@/lib/contract/machine'
import { fullFlowM3S, machineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { PA_PER_BAR, W_PER_KW } from '@/lib/units'
import { HAND_MACHINE, handCurrentA, handInputKW, handShaftKW } from '../../laws/hand-machine'

const BARS = [0, 5, 40, 90, 130, 160]
const withSets = (furtherSets: unknown[], of = HAND_MACHINE) =>
  machineModel(machineSchema.parse({ ...of, furtherSets }))

describe('sets alike on one line and one meter', () => {
  const three = withSets([{ count: 2 }])

  it('take three times the flow, shaft power, input and current of one', () => {
    for (const bar of BARS) {
      const shaftW = pumpShaftW(three, bar * PA_PER_BAR)
      expect(shaftW / W_PER_KW).toBeCloseTo(3 * handShaftKW(bar), 6)
      expect((shaftW + three.motor.lossW(shaftW)) / W_PER_KW).toBeCloseTo(
        3 * handInputKW(handShaftKW(bar)),
        6,
      )
      expect(three.motor.currentA(shaftW)).toBeCloseTo(3 * handCurrentA(handShaftKW(bar)), 6)
    }
  })

  it('give the shaft power back from input and from current', () => {
    for (const bar of BARS) {
      const shaftKW = 3 * handShaftKW(bar)
      const inputW = 3 * handInputKW(handShaftKW(bar)) * W_PER_KW
      expect(three.motor.shaftFromInputW(inputW) / W_PER_KW).toBeCloseTo(shaftKW, 6)
      const amps = 3 * handCurrentA(handShaftKW(bar))
      expect(three.motor.shaftFromCurrentW(amps) / W_PER_KW).toBeCloseTo(shaftKW, 2)
    }
  })
})

/** A smaller set with slip, six poles and another pump; the first with slip too. */
const FIRST = machineSchema.parse({ ...HAND_MACHINE, motor: { ...HAND_MACHINE.motor, ratedSpeedRpm: 1470 } })
const SECOND = machineSchema.parse({
  ...HAND_MACHINE,
  motor: {
    ...HAND_MACHINE.motor,
    ratedPowerKW: 15,
    ratedCurrentA: 29.5,
    ratedPowerFactor: 0.81,
    ratedEfficiency: 0.906,
    ratedSpeedRpm: 970,
    poles: 6,
    noLoadCurrentA: 15,
  },
  pump: { ...HAND_MACHINE.pump, displacementCm3: 45, ratedSpeedRpm: 970, volumetricEfficiency: 0.92 },
})

describe('sets that differ', () => {
  const one = machineModel(FIRST)
  const other = machineModel(SECOND)
  const both = withSets([{ motor: SECOND.motor, pump: SECOND.pump }], FIRST)

  it('add up as each alone does at the pressure of the line', () => {
    for (const bar of BARS) {
      const pa = bar * PA_PER_BAR
      const shafts = [pumpShaftW(one, pa), pumpShaftW(other, pa)]
      const shaftW = shafts[0] + shafts[1]
      expect(fullFlowM3S(both, pa) / (fullFlowM3S(one, pa) + fullFlowM3S(other, pa))).toBeCloseTo(1, 5)
      expect(pumpShaftW(both, pa) / shaftW).toBeCloseTo(1, 5)
      const lossW = one.motor.lossW(shafts[0]) + other.motor.lossW(shafts[1])
      expect(both.motor.lossW(shaftW) / lossW).toBeCloseTo(1, 5)
    }
  })

  it('add active and reactive current, not amperes', () => {
    const phasor = (motor: typeof one.motor, shaftW: number) => {
      const activeW = shaftW + motor.lossW(shaftW)
      const apparent = Math.sqrt(3) * 400 * motor.currentA(shaftW)
      return [activeW, Math.sqrt(apparent ** 2 - activeW ** 2)]
    }
    for (const bar of BARS) {
      const pa = bar * PA_PER_BAR
      const shafts = [pumpShaftW(one, pa), pumpShaftW(other, pa)]
      const [a, b] = [phasor(one.motor, shafts[0]), phasor(other.motor, shafts[1])]
      const amps = Math.hypot(a[0] + b[0], a[1] + b[1]) / Math.sqrt(3) / 400
      expect(both.motor.currentA(shafts[0] + shafts[1]) / amps).toBeCloseTo(1, 5)
      expect(both.motor.shaftFromCurrentW(amps) / (shafts[0] + shafts[1])).toBeCloseTo(1, 4)
    }
  })

  it('rises with current and with input, without a step, from no load to well above rated', () => {
    const { motor } = both
    let last = 0
    for (let amps = motor.noLoadCurrentA; amps < 1.4 * motor.ratedCurrentA; amps += 0.1) {
      const shaftW = motor.shaftFromCurrentW(amps)
      expect(shaftW).toBeGreaterThanOrEqual(last)
      expect(shaftW - last).toBeLessThan(0.05 * motor.ratedShaftW)
      last = shaftW
    }
    expect(last).toBeGreaterThan(1.3 * motor.ratedShaftW)
  })

  it('take without load what both take without load', () => {
    expect(both.motor.lossW(0)).toBeCloseTo(one.motor.lossW(0) + other.motor.lossW(0), 6)
  })

  it('follow the supply voltage as each motor does', () => {
    const pa = 120 * PA_PER_BAR
    const shafts = [pumpShaftW(one, pa), pumpShaftW(other, pa)]
    const shaftW = shafts[0] + shafts[1]
    const lossW = one.motor.lossW(shafts[0], 385) + other.motor.lossW(shafts[1], 385)
    expect(both.motor.lossW(shaftW, 385) / lossW).toBeCloseTo(1, 2)
    const amps = both.motor.currentA(shaftW, 385)
    expect(both.motor.shaftFromCurrentW(amps, 385) / shaftW).toBeCloseTo(1, 4)
    expect(both.motor.shaftFromInputW(shaftW + both.motor.lossW(shaftW, 385), 385) / shaftW).toBeCloseTo(1, 5)
  })
})

describe('a set with a high–low pair beside another set', () => {
  it('adds flows and shaft powers on both sides of the unloading pressure', () => {
    const pair = {
      ...FIRST,
      furtherPumps: [{ ...FIRST.pump, outlet: 'common' as const, unloadsAboveBar: 80 }],
    }
    const both = withSets([{ motor: SECOND.motor, pump: SECOND.pump }], pair)
    const [one, other] = [machineModel(pair), machineModel(SECOND)]
    for (const bar of [60, 79, 81, 150]) {
      const pa = bar * PA_PER_BAR
      expect(fullFlowM3S(both, pa) / (fullFlowM3S(one, pa) + fullFlowM3S(other, pa))).toBeCloseTo(1, 2)
      expect(pumpShaftW(both, pa) / (pumpShaftW(one, pa) + pumpShaftW(other, pa))).toBeCloseTo(1, 2)
    }
  })
})
