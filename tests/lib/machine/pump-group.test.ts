import { describe, expect, it } from 'vitest'
import { type Machine, machineSchema } from '@/lib/contract/machine'
import {
  allFeeding,
  fullFlowM3S,
  inPumpState,
  machineModel,
  partStrokeFlowM3S,
  pumpShaftW,
} from '@/lib/machine/machine-model'
import { M3S_PER_LPM, PA_PER_BAR, W_PER_KW } from '@/lib/units'
import { HAND_MACHINE, handFlowLpm, handFrictionKW, handLeakLpm, handShaftKW } from '../../laws/hand-machine'

/** A pump of half the hand-worked one: half of every flow, torque and loss. */
const HALF = { ...HAND_MACHINE.pump, displacementCm3: 30 }
const withPumps = (furtherPumps: unknown[], of: Machine = HAND_MACHINE) =>
  machineModel(machineSchema.parse({ ...of, furtherPumps }))

const flowLpm = (model: ReturnType<typeof withPumps>, bar: number) =>
  fullFlowM3S(model, bar * PA_PER_BAR) / M3S_PER_LPM
const shaftKW = (model: ReturnType<typeof withPumps>, bar: number, lpm: number | null = null) =>
  pumpShaftW(model, bar * PA_PER_BAR, lpm === null ? null : lpm * M3S_PER_LPM) / W_PER_KW
/** The hand-worked motor turns at 1500 rpm whatever it carries. */
const RAD_S = 50 * Math.PI

describe('pumps on one shaft', () => {
  it('add flow and torque where they feed one line', () => {
    const model = withPumps([HALF])
    for (const bar of [0, 5, 80, 160]) {
      expect(flowLpm(model, bar)).toBeCloseTo(1.5 * handFlowLpm(bar), 9)
      expect(shaftKW(model, bar)).toBeCloseTo(1.5 * handShaftKW(bar), 9)
    }
    expect(model.pump.beside).toBeNull()
  })

  it('carry less above the pressure at which one goes to tank, and say what goes there', () => {
    const model = withPumps([{ ...HALF, unloadsAboveBar: 80 }])
    expect(flowLpm(model, 80)).toBeCloseTo(1.5 * handFlowLpm(80), 9)
    expect(shaftKW(model, 80)).toBeCloseTo(1.5 * handShaftKW(80), 9)
    // Above: the first pump at 140 bar, the other one at the 5 bar of the unloading way.
    expect(flowLpm(model, 140)).toBeCloseTo(handFlowLpm(140), 9)
    expect(shaftKW(model, 140)).toBeCloseTo(handShaftKW(140) + 0.5 * handShaftKW(5), 9)
    const { beside } = model.pump
    expect(beside?.unloadedW(140 * PA_PER_BAR, RAD_S)).toBeCloseTo(
      ((5 * 0.5 * handFlowLpm(5)) / 600) * W_PER_KW,
      6,
    )
    expect(beside?.unloadedW(80 * PA_PER_BAR, RAD_S)).toBe(0)
    expect(beside?.ownCircuitW(RAD_S)).toBe(0)
  })

  it('keep a state that was told until the pressure is clearly beyond what ends it', () => {
    const model = withPumps([{ ...HALF, unloadsAboveBar: 80 }])
    const [alone, both] = [inPumpState(model, 0), inPumpState(model, 1)]
    for (const bar of [60, 75, 80, 90]) {
      expect(flowLpm(alone, bar)).toBeCloseTo(handFlowLpm(bar), 9)
      expect(shaftKW(alone, bar)).toBeCloseTo(handShaftKW(bar) + 0.5 * handShaftKW(5), 9)
      expect(flowLpm(both, bar)).toBeCloseTo(1.5 * handFlowLpm(bar), 9)
      expect(shaftKW(both, bar)).toBeCloseTo(1.5 * handShaftKW(bar), 9)
    }
    expect(flowLpm(alone, 5)).toBeCloseTo(1.5 * handFlowLpm(5), 9)
    expect(flowLpm(both, 140)).toBeCloseTo(handFlowLpm(140), 9)
    expect(flowLpm(allFeeding(model), 140)).toBeCloseTo(1.5 * handFlowLpm(140), 9)
    expect(inPumpState(model, Number.NaN)).toBe(model)
    expect(inPumpState(model, 1 - 1e-12)).toBe(both)
    expect(model.pump.latch?.fixed).toHaveLength(2)
    expect(withPumps([HALF]).pump.latch).toBeNull()
  })

  it('take a constant torque for a circuit of its own, at any stroke of the others', () => {
    const model = withPumps([{ ...HALF, outlet: { pressureBar: 25 } }])
    for (const bar of [5, 160]) {
      expect(flowLpm(model, bar)).toBeCloseTo(handFlowLpm(bar), 9)
      expect(shaftKW(model, bar)).toBeCloseTo(handShaftKW(bar) + 0.5 * handShaftKW(25), 9)
    }
    expect(model.pump.beside?.ownCircuitW(RAD_S)).toBeCloseTo(
      ((25 * 0.5 * handFlowLpm(25)) / 600) * W_PER_KW,
      6,
    )
  })

  it('is the single pump itself without further ones', () => {
    const single = machineModel(HAND_MACHINE)
    const model = withPumps([])
    for (const bar of [0, 60, 160]) {
      expect(fullFlowM3S(model, bar * PA_PER_BAR)).toBe(fullFlowM3S(single, bar * PA_PER_BAR))
      expect(pumpShaftW(model, bar * PA_PER_BAR)).toBe(pumpShaftW(single, bar * PA_PER_BAR))
    }
  })
})

describe.each(['pressure-compensated', 'load-sensing'] as const)('a %s pump at part stroke', (kind) => {
  const machine = machineSchema.parse({ ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind } })
  const model = machineModel(machine)

  // Domain rule: leakage and loss torque stay at their full-stroke values.
  it.each([
    [150, 0],
    [150, 40],
    [20, 0],
    [60, 25],
  ])('takes at %d bar and %d L/min what flow, leakage and full-stroke friction take', (bar, lpm) => {
    const hand = (bar * (lpm + handLeakLpm(bar))) / 600 + handFrictionKW(bar)
    expect(shaftKW(model, bar, lpm)).toBeCloseTo(hand, 9)
  })

  it('takes at standby less than dead-headed at full stroke and more than nothing', () => {
    expect(shaftKW(model, 150, 0)).toBeCloseTo((150 * handLeakLpm(150)) / 600 + handFrictionKW(150), 9)
    expect(shaftKW(model, 150, 0)).toBeLessThan(0.2 * shaftKW(model, 150))
    expect(shaftKW(model, 17, 0)).toBeLessThan(0.5 * shaftKW(model, 150, 0))
  })

  it('shows its flow by its power, beside a pilot pump too', () => {
    const pilot = withPumps([{ ...HALF, outlet: { pressureBar: 25 } }], machine)
    const shaftW = (150 * (40 + handLeakLpm(150))) / 600 + handFrictionKW(150) + 0.5 * handShaftKW(25)
    const powerW = shaftW * W_PER_KW + pilot.motor.lossW(shaftW * W_PER_KW)
    const flow = partStrokeFlowM3S(pilot, {
      pumpPressurePa: 150 * PA_PER_BAR,
      powerW,
      currentA: Number.NaN,
    })
    expect(flow / M3S_PER_LPM).toBeCloseTo(40, 6)
  })
})
