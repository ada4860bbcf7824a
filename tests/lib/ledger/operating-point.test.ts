import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import {
  electricPower,
  kindAtPressure,
  nodeFlows,
  noStreams,
  type Readings,
  type Streams,
  streamsAt,
} from '@/lib/ledger/operating-point'
import { machineModel } from '@/lib/machine/machine-model'
import { HAND_MACHINE, handCurrentA, handFlowLpm, handInputKW, handShaftKW } from '../../laws/hand-machine'

/** Nothing contradicts, and no load pressure stands in for a missing one. */
const NO_FRAME = { contradictedW: 0, loadShare: Number.NaN }

const BAR = 100_000
const LPM = 1 / 60_000
const PSI = 6894.757293168
const GPM = 3.785411784e-3 / 60
const HP = 745.6998716

const NOTHING: Readings = {
  pumpPressurePa: Number.NaN,
  loadPressurePa: Number.NaN,
  pumpFlowM3S: Number.NaN,
  systemFlowM3S: Number.NaN,
  returnFlowM3S: Number.NaN,
  caseDrainM3S: Number.NaN,
  currentA: Number.NaN,
  powerW: Number.NaN,
  voltageV: Number.NaN,
  speedRadS: Number.NaN,
  pumpState: Number.NaN,
}
const model = machineModel(HAND_MACHINE)
const openCentre = machineModel({ ...HAND_MACHINE, unloading: { kind: 'open-centre', pressureBar: 5 } })
const compensated = machineModel({
  ...HAND_MACHINE,
  pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' },
} satisfies Machine)

const flowsAt = (read: Partial<Readings>, kind: PhaseKind, of = model) => {
  const readings = { ...NOTHING, ...read }
  const flows = nodeFlows(readings, kind, of, of.relief, readings.pumpPressurePa)
  return Object.fromEntries(Object.entries(flows).map(([key, value]) => [key, value / LPM]))
}
const expectFlows = (got: Record<string, number>, want: Record<string, number>) => {
  for (const [key, value] of Object.entries(want)) expect(got[key], key).toBeCloseTo(value, 6)
}

describe('a motor that runs up', () => {
  const at = (read: Partial<Readings>) => {
    const readings = { ...NOTHING, ...read }
    const flows = nodeFlows(readings, 'starting', model, model.relief, readings.pumpPressurePa)
    const streams = noStreams()
    const power = electricPower(readings, 'starting', model, flows.pump, 1)
    streamsAt(readings, 'starting', flows, power, NO_FRAME, streams)
    return { flows, streams }
  }

  it('pushes oil over the relief as a meter shows; the pump leaks, and the rest speeds it up', () => {
    // 42 of 84 L/min at 150 bar: 10.5 kW; the input is 60 kW.
    const { flows, streams } = at({ pumpPressurePa: 150 * BAR, pumpFlowM3S: 42 * LPM, powerW: 60_000 })
    expect(flows.relief / LPM).toBeCloseTo(42, 9)
    expect(streams.overRelief).toBeCloseTo(10_500, 6)
    expect(streams.intoSystem).toBe(0)
    const turnedM3S = 42 * LPM + model.pump.leakageM3S(150 * BAR)
    const lossW =
      (turnedM3S / model.pump.displacementM3PerRad) * model.pump.lossTorqueNm(150 * BAR) +
      150 * BAR * (turnedM3S - 42 * LPM)
    expect(streams.pumpLoss).toBeCloseTo(lossW, 6)
    expect(streams.motorLoss).toBeCloseTo(60_000 - 10_500 - lossW, 6)
  })

  it('without a meter passes what the relief’s line says at the pressure, and nothing below it', () => {
    const open = at({ pumpPressurePa: 160 * BAR, systemFlowM3S: 0, powerW: 60_000 })
    expect(open.flows.relief).toBeCloseTo(model.relief.ratedFlowM3S, 9)
    const shut = at({ pumpPressurePa: 5 * BAR, systemFlowM3S: 0, powerW: 60_000 })
    expect(shut.flows.relief).toBe(0)
    expect(shut.streams.motorLoss).toBeGreaterThan(59_000)
  })

  it('never loses less than nothing: an input too small for its pump is unaccounted', () => {
    const { streams } = at({ pumpPressurePa: 150 * BAR, pumpFlowM3S: 42 * LPM, powerW: 5000 })
    expect(streams.motorLoss).toBe(0)
    expect(streams.unaccounted).toBeLessThan(0)
    const parts = streams.overRelief + streams.pumpLoss + streams.motorLoss + streams.unaccounted
    expect(parts).toBeCloseTo(5000, 6)
  })
})

describe('a moment at the relief’s pressure while unloaded', () => {
  it('pushes oil over the relief: a valve that waits before it vents', () => {
    expect(kindAtPressure('idle-unloaded', 159 * BAR, model, model.relief)).toBe('idle-loaded')
    expect(kindAtPressure('idle-unloaded', 5 * BAR, model, model.relief)).toBe('idle-unloaded')
    expect(kindAtPressure('idle-unloaded', Number.NaN, model, model.relief)).toBe('idle-unloaded')
    expect(kindAtPressure('work-moving', 159 * BAR, model, model.relief)).toBe('work-moving')
    expect(kindAtPressure('idle-unloaded', 159 * BAR, compensated, compensated.relief)).toBe('idle-unloaded')
  })
})

describe('the published relief account', () => {
  /**
   * Trade page: fixed pump of 20 gpm, relief at 2500 psi, load takes 9 gpm at 1300 psi. Split computed from
   * hp = gpm·psi/1714.2857: 29.17 = 16.04 over relief + 6.30 metering + 6.83 work.
   */
  const read = {
    ...NOTHING,
    pumpPressurePa: 2500 * PSI,
    loadPressurePa: 1300 * PSI,
    pumpFlowM3S: 20 * GPM,
    systemFlowM3S: 9 * GPM,
  }
  it('is what the account gives, in horsepower', () => {
    const streams = noStreams()
    const flows = nodeFlows(read, 'work-metering', model, model.relief, read.pumpPressurePa)
    streamsAt(read, 'work-metering', flows, { electricW: 40 * HP, shaftW: 35 * HP }, NO_FRAME, streams)
    expect(streams.overRelief / HP).toBeCloseTo(16.04, 2)
    expect(streams.metering / HP).toBeCloseTo(6.3, 2)
    expect(Math.abs(streams.work / HP - 6.83)).toBeLessThan(0.006)
    expect((streams.overRelief + streams.intoSystem) / HP).toBeCloseTo(29.17, 2)
    expect(streams.motorLoss / HP).toBeCloseTo(5, 9)
    expect(streams.pumpLoss / HP).toBeCloseTo(35 - 29.17, 2)
    expect(streams.unaccounted).toBe(0)
  })
  it('comes out the same from the return meter instead of either other', () => {
    const full = nodeFlows(read, 'work-metering', model, model.relief, read.pumpPressurePa)
    for (const missing of ['pumpFlowM3S', 'systemFlowM3S'] as const) {
      const other = { ...read, returnFlowM3S: 11 * GPM, [missing]: Number.NaN }
      const flows = nodeFlows(other, 'work-metering', model, model.relief, read.pumpPressurePa)
      for (const key of ['pump', 'system', 'relief'] as const) expect(flows[key]).toBeCloseTo(full[key], 12)
    }
  })
})

/** Node balance at the pump outlet (shared domain rules, section 3): pump = system + relief + unloading. */
describe('flows by the meters fitted', () => {
  const p = { pumpPressurePa: 155.2 * BAR }
  const pump = handFlowLpm(155.2)

  it('three meters: what they contradict stays apart', () => {
    const got = flowsAt(
      { ...p, pumpFlowM3S: 86 * LPM, systemFlowM3S: 42 * LPM, returnFlowM3S: 43 * LPM },
      'work-metering',
    )
    expectFlows(got, { pump: 86, system: 42, relief: 43, unload: 0, residual: 1 })
  })
  it('two meters give the third', () => {
    expectFlows(flowsAt({ ...p, pumpFlowM3S: 86 * LPM, systemFlowM3S: 42 * LPM }, 'work-metering'), {
      relief: 44,
    })
    expectFlows(flowsAt({ ...p, pumpFlowM3S: 86 * LPM, returnFlowM3S: 43 * LPM }, 'work-metering'), {
      system: 43,
    })
    expectFlows(flowsAt({ ...p, systemFlowM3S: 42 * LPM, returnFlowM3S: 43 * LPM }, 'work-metering'), {
      pump: 85,
    })
  })
  it('one meter: the pump model gives the second', () => {
    expectFlows(flowsAt({ ...p, systemFlowM3S: 42 * LPM }, 'work-metering'), { pump, relief: pump - 42 })
    expectFlows(flowsAt({ ...p, returnFlowM3S: 43 * LPM }, 'work-metering'), { pump, system: pump - 43 })
  })
  it('the pump’s flow alone: the relief’s line splits it while metering', () => {
    // Half of the span above cracking passes half of rated flow: 42.75 L/min at 155.2 bar.
    expectFlows(flowsAt({ ...p, pumpFlowM3S: 86 * LPM }, 'work-metering'), {
      relief: 42.75,
      system: 86 - 42.75,
    })
    expectFlows(flowsAt(p, 'work-metering'), { pump, relief: 42.75, system: pump - 42.75 })
  })
  it('with the relief closed all goes into the system', () => {
    const low = { pumpPressurePa: 80 * BAR }
    expectFlows(flowsAt({ ...low, pumpFlowM3S: 87 * LPM }, 'work-moving'), { system: 87, relief: 0 })
    expectFlows(flowsAt({ ...low, systemFlowM3S: 87 * LPM }, 'work-moving'), {
      pump: 87,
      system: 87,
      relief: 0,
    })
    expectFlows(flowsAt(low, 'work-moving'), { pump: 87.75, system: 87.75, relief: 0 })
  })
  it('a return meter counts leakage through a closed relief as over relief (contract)', () => {
    const low = { pumpPressurePa: 80 * BAR, returnFlowM3S: 1.5 * LPM }
    expectFlows(flowsAt({ ...low, systemFlowM3S: 86 * LPM }, 'work-moving'), { relief: 1.5, pump: 87.5 })
    expectFlows(flowsAt({ ...low, pumpFlowM3S: 88 * LPM }, 'work-moving'), { relief: 1.5, system: 86.5 })
  })
  it.each(['idle-loaded', 'work-holding'] as const)('%s: the whole flow over the relief', (kind) => {
    const high = { pumpPressurePa: 160 * BAR }
    expectFlows(flowsAt({ ...high, systemFlowM3S: 0 }, kind), { pump: 85.5, relief: 85.5, system: 0 })
    expectFlows(flowsAt({ ...high, pumpFlowM3S: 86 * LPM }, kind), { relief: 86, system: 0 })
    expectFlows(flowsAt({ ...high, returnFlowM3S: 85 * LPM }, kind), { pump: 85, relief: 85, system: 0 })
    expectFlows(flowsAt(high, kind), { pump: 85.5, relief: 85.5, system: 0 })
  })
})

describe('flows while unloaded', () => {
  const low = { pumpPressurePa: 5 * BAR }
  it('a vented relief: the return meter sees unloading, the line meter is bypassed', () => {
    expectFlows(flowsAt({ ...low, returnFlowM3S: 89 * LPM, systemFlowM3S: 0 }, 'idle-unloaded'), {
      unload: 89,
      relief: 0,
      system: 0,
      pump: 89,
    })
    expectFlows(flowsAt({ ...low, systemFlowM3S: 0 }, 'idle-unloaded'), { unload: handFlowLpm(5), system: 0 })
  })
  it('an open centre: what the line meter sees is unloading', () => {
    expectFlows(flowsAt({ ...low, systemFlowM3S: 88 * LPM, returnFlowM3S: 0 }, 'idle-unloaded', openCentre), {
      unload: 88,
      system: 0,
      relief: 0,
    })
  })
  it('the pump’s own meter outranks the model', () => {
    expectFlows(flowsAt({ ...low, pumpFlowM3S: 87 * LPM }, 'idle-unloaded'), { unload: 87 })
  })
})

describe('a compensated pump', () => {
  it('delivers what the system takes, with the relief closed', () => {
    const read = { pumpPressurePa: 140 * BAR, systemFlowM3S: 30 * LPM }
    expectFlows(flowsAt(read, 'work-metering', compensated), { pump: 30, system: 30, relief: 0 })
  })
  it('without any flow meter has no flow that anybody knows', () => {
    expect(flowsAt({ pumpPressurePa: 140 * BAR }, 'work-moving', compensated).pump).toBeNaN()
  })
})

describe('electric input and shaft power', () => {
  const read = { ...NOTHING, pumpPressurePa: 160 * BAR }
  const shaftW = 1000 * handShaftKW(160)
  it('measured power outranks current; shaft power follows from the motor’s losses', () => {
    const measured = { ...read, powerW: 1000 * handInputKW(20), currentA: 99 }
    const got = electricPower(measured, 'idle-loaded', model, 0, 1)
    expect(got.electricW).toBe(measured.powerW)
    expect(got.shaftW).toBeCloseTo(20_000, 3)
  })
  it('current alone, weighed against the pump model as told', () => {
    const seen = { ...read, currentA: handCurrentA(20) }
    expect(electricPower(seen, 'idle-loaded', model, 0, 1).shaftW / 20_000).toBeCloseTo(1, 3)
    expect(electricPower(seen, 'idle-loaded', model, 0, 0).shaftW / shaftW).toBeCloseTo(1, 6)
    const half = electricPower(seen, 'idle-loaded', model, 0, 0.5)
    expect(half.shaftW / ((20_000 + shaftW) / 2)).toBeCloseTo(1, 3)
    expect(half.electricW / 1000).toBeCloseTo(handInputKW(half.shaftW / 1000), 6)
  })
  it('without an electric sensor the pump model speaks', () => {
    const got = electricPower(read, 'idle-loaded', model, 0, 1)
    expect(got.electricW / 1000).toBeCloseTo(handInputKW(handShaftKW(160)), 6)
  })
  it('a stopped motor takes nothing, whatever its clamp’s zero says', () => {
    expect(electricPower({ ...read, currentA: 0.4 }, 'stopped', model, 0, 1)).toEqual({
      electricW: 0,
      shaftW: 0,
    })
  })
  it('a missing pressure leaves the current to speak alone', () => {
    const seen = { ...NOTHING, currentA: handCurrentA(20) }
    expect(electricPower(seen, 'idle-loaded', model, 0, 0.4).electricW / 1000 / handInputKW(20)).toBeCloseTo(
      1,
      3,
    )
  })
})

describe('the account closes', () => {
  const reading = (max: number) =>
    fc.option(fc.double({ min: -0.02 * max, max, noNaN: true }), { nil: Number.NaN, freq: 4 })
  it('for any readings, in any phase, whatever is missing', () => {
    fc.assert(
      fc.property(
        fc.record({
          pumpPressurePa: reading(250 * BAR),
          loadPressurePa: reading(250 * BAR),
          pumpFlowM3S: reading(100 * LPM),
          systemFlowM3S: reading(100 * LPM),
          returnFlowM3S: reading(100 * LPM),
          currentA: fc.double({ min: 0, max: 80, noNaN: true }),
          caseDrainM3S: reading(10 * LPM),
          powerW: reading(40_000),
          voltageV: fc.constantFrom(Number.NaN, 300, 440),
          speedRadS: fc.constantFrom(Number.NaN, 80, 154),
          pumpState: fc.constant(Number.NaN),
        }),
        fc.constantFrom(...PHASE_KINDS),
        fc.constantFrom(model, openCentre, compensated),
        fc.double({ min: -5000, max: 5000, noNaN: true }),
        fc.constantFrom(Number.NaN, 0, 0.6),
        (read, kind, of, contradictedW, loadShare) => {
          const flows = nodeFlows(read, kind, of, of.relief, read.pumpPressurePa)
          const power = electricPower(read, kind, of, flows.pump, Number.isNaN(read.pumpPressurePa) ? 1 : 0.5)
          fc.pre(!Number.isNaN(power.electricW))
          const out: Streams = noStreams()
          streamsAt(read, kind, flows, power, { contradictedW, loadShare }, out)
          const parts =
            out.motorLoss + out.pumpLoss + out.overRelief + out.unloading + out.intoSystem + out.unaccounted
          expect(Math.abs(parts - out.electricIn)).toBeLessThan(1e-6)
          if (!Number.isNaN(out.work)) {
            expect(Math.abs(out.metering + out.work - out.intoSystem)).toBeLessThan(1e-6)
          }
        },
      ),
      { numRuns: 500 },
    )
  })
  it('a missing load pressure is taken at the share of pump pressure that its kind of phase has', () => {
    const out = noStreams()
    const read = { ...NOTHING, pumpPressurePa: 120 * BAR, pumpFlowM3S: 60 * LPM }
    const flows = nodeFlows(read, 'work-moving', model, model.relief, read.pumpPressurePa)
    const power = { electricW: 20_000, shaftW: 18_000 }
    // 60 L/min at 120 bar is 12 kW; three quarters of the pressure is work.
    streamsAt(read, 'work-moving', flows, power, { contradictedW: 0, loadShare: 0.75 }, out)
    expect([out.work, out.metering]).toEqual([expect.closeTo(9000, 6), expect.closeTo(3000, 6)])
    streamsAt(read, 'work-moving', flows, power, NO_FRAME, out)
    expect(out.work).toBeNaN()
    expect(out.intoSystem).toBeCloseTo(12_000, 6)
  })
  it('what meters contradict is on its own line and in no other', () => {
    const read = {
      ...NOTHING,
      pumpPressurePa: 100 * BAR,
      pumpFlowM3S: 80 * LPM,
      systemFlowM3S: 50 * LPM,
      returnFlowM3S: 24 * LPM,
    }
    const out = noStreams()
    const flows = nodeFlows(read, 'work-metering', model, model.relief, read.pumpPressurePa)
    streamsAt(read, 'work-metering', flows, { electricW: 20_000, shaftW: 18_000 }, NO_FRAME, out)
    // 6 L/min at 100 bar is 1 kW.
    expect(out.unaccounted).toBeCloseTo(1000, 6)
    expect(out.overRelief).toBeCloseTo(4000, 6)
    expect(out.intoSystem).toBeCloseTo(8333.333, 3)
    expect(out.pumpLoss).toBeCloseTo(18_000 - 80 * (100 / 0.6), 3)
  })
})
