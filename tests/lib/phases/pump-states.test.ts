import { describe, expect, it } from 'vitest'
import { type Machine, machineSchema } from '@/lib/contract/machine'
import { fullFlowM3S, inPumpState, machineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { tellPumpStates } from '@/lib/phases/pump-states'
import { meansBy, type Stretch, type StretchMeans } from '@/lib/phases/stretch'
import { PA_PER_BAR } from '@/lib/units'
import { HAND_MACHINE } from '../../laws/hand-machine'

/** The hand-worked pump with one of half its size that goes to tank above 100 bar and comes back below about 85. */
const HALF = { ...HAND_MACHINE.pump, displacementCm3: 30 }
const machine: Machine = machineSchema.parse({
  ...HAND_MACHINE,
  furtherPumps: [{ ...HALF, unloadsAboveBar: 100 }],
})
const model = machineModel(machine)
const [ALONE, BOTH] = [0, 1]
const SENSOR = { column: '', values: new Float64Array(0), limit: 0 }
const LIMITS = {
  pumpPressure: { ...SENSOR, limit: 0.5 * PA_PER_BAR },
  pumpFlow: null,
  systemFlow: null,
  returnFlow: null,
  current: null,
  power: null,
}

type Read = Partial<StretchMeans>
const stretch = (bar: number, rest: Read = {}, more: Partial<Stretch> = {}): Stretch => ({
  from: 0,
  to: 10,
  durationS: 1,
  afterGap: false,
  peakLoadPa: Number.NaN,
  means: { ...meansBy(() => Number.NaN), pumpPressurePa: bar * PA_PER_BAR, ...rest },
  ...more,
})
const statesOf = (stretches: readonly Stretch[]) => {
  const told = tellPumpStates(stretches, LIMITS, model)
  if (!told) throw new Error('a pair has states')
  return told
}

/** What meters read with the pumps in a state. */
const power = (bar: number, state: number): Read => {
  const shaftW = pumpShaftW(inPumpState(model, state), bar * PA_PER_BAR)
  return { powerW: shaftW + model.motor.lossW(shaftW) }
}
const current = (bar: number, state: number): Read => ({
  currentA: model.motor.currentA(pumpShaftW(inPumpState(model, state), bar * PA_PER_BAR)),
})
const lineFlow = (bar: number, state: number): Read => ({
  systemFlowM3S: fullFlowM3S(inPumpState(model, state), bar * PA_PER_BAR),
})

describe('which pumps of a pair feed', () => {
  it('follows the side that the pressure came from, where it alone was read', () => {
    const bars = [5, 92, 130, 92, 92, 40, 92, 97]
    const { state } = statesOf(bars.map((bar) => stretch(bar)))
    expect([...state]).toEqual([BOTH, BOTH, ALONE, ALONE, ALONE, BOTH, BOTH, BOTH])
  })

  it('is open again after a gap, and no more certain than a coin', () => {
    const { chance } = statesOf([stretch(130), stretch(93, {}, { afterGap: true })])
    expect(chance[2 + ALONE]).toBeGreaterThan(0.2)
    expect(chance[2 + ALONE]).toBeLessThan(0.8)
  })

  it.each([
    ['power', power],
    ['current', current],
    ['line flow', lineFlow],
  ] as const)('is what %s says between the thresholds, whatever the pressure did', (_, read) => {
    for (const state of [ALONE, BOTH]) {
      for (const before of [20, 150]) {
        const told = statesOf([stretch(before), stretch(92, read(92, state)), stretch(before)])
        expect(told.state[1]).toBe(state)
        expect(told.chance[2 + state]).toBeGreaterThan(0.6)
        expect(told.mixed[1]).toBe(0)
      }
    }
  })

  it('is the pressure’s far beyond a threshold, whatever a meter in trouble says', () => {
    expect(statesOf([stretch(20), stretch(20, power(20, ALONE)), stretch(20)]).state[1]).toBe(BOTH)
  })

  it('says nothing of an inrush', () => {
    const inrush = { powerW: 6 * model.motor.ratedInputW }
    expect(statesOf([stretch(150), stretch(150, inrush)]).state[1]).toBe(ALONE)
  })

  it('is marked where readings lie between those of both: a pair that changes to and fro', () => {
    const [alone, both] = [ALONE, BOTH].map((state) => lineFlow(92, state).systemFlowM3S ?? Number.NaN)
    const mixedAt = (systemFlowM3S: number) => statesOf([stretch(92, { systemFlowM3S })]).mixed[0]
    expect(mixedAt((alone + both) / 2)).toBe(1)
    expect(mixedAt(alone)).toBe(0)
    expect(mixedAt(both)).toBe(0)
  })

  it('is marked where they change over quicker than any cycle asks for, and only there', () => {
    const toAndFro = [130, 30, 130, 30, 130].map((bar) => stretch(bar, {}, { durationS: 0.2 }))
    const slow = [30, 130, 30].map((bar) => stretch(bar, {}, { durationS: 3 }))
    const { mixed } = statesOf([...slow, ...toAndFro, stretch(30)])
    expect([...mixed]).toEqual([0, 0, 0, 1, 1, 1, 1, 1, 0])
  })

  it('is nothing for pumps that always feed', () => {
    expect(tellPumpStates([stretch(92)], LIMITS, machineModel(HAND_MACHINE))).toBeNull()
  })
})
