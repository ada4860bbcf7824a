import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import type { PhaseKind } from '@/lib/contract/result'
import { type NodeFlows, nodeFlows, type Readings } from '@/lib/ledger/operating-point'
import { machineModel } from '@/lib/machine/machine-model'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import { HAND_MACHINE } from '../../laws/hand-machine'

/**
 * Laws of the node at the pump outlet for every set of meters: pump = system + relief + unload, and what
 * the kinds of phase rule out (shared domain rules, sections 3 and 5).
 */
const METERS = ['pump', 'system', 'return', 'case'] as const
type Meter = (typeof METERS)[number]
const SUBSETS: Meter[][] = METERS.reduce<Meter[][]>(
  (sets, meter) => sets.flatMap((set) => [set, [...set, meter]]),
  [[]],
)
const FLUID_KINDS = ['idle-unloaded', 'idle-loaded', 'work-moving', 'work-metering', 'work-holding'] as const

const withUnloading = (kind: 'none' | 'vented-relief' | 'open-centre'): Machine => ({
  ...HAND_MACHINE,
  unloading: { kind, pressureBar: 5 },
})
const ofKind = (kind: 'pressure-compensated' | 'load-sensing'): Machine => ({
  ...HAND_MACHINE,
  pump: { ...HAND_MACHINE.pump, kind },
})
const MODELS = [
  machineModel(withUnloading('none')),
  machineModel(withUnloading('vented-relief')),
  machineModel(withUnloading('open-centre')),
  machineModel(ofKind('pressure-compensated')),
  machineModel(ofKind('load-sensing')),
]
type Model = (typeof MODELS)[number]

/** A leak of 1 L/min at 160 bar, so that a shut relief is not simply nil. */
const curveOf = (model: Model) => ({
  ...model.relief,
  leakPerPa: model.isFixed ? (1 * M3S_PER_LPM) / (160 * PA_PER_BAR) : 0,
})

interface Case {
  readonly model: Model
  readonly kind: PhaseKind
  readonly pressurePa: number
  readonly speedRadS: number
  readonly drainM3S: number
  readonly share: number
}

const anyCase = fc.record({
  model: fc.constantFrom(...MODELS),
  kind: fc.constantFrom(...FLUID_KINDS),
  pressurePa: fc.double({ min: 3 * PA_PER_BAR, max: 165 * PA_PER_BAR, noNaN: true }),
  speedRadS: fc.double({ min: 60, max: 156, noNaN: true }),
  drainM3S: fc.double({ min: 0, max: 8 * M3S_PER_LPM, noNaN: true }),
  share: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
})

/** Flows as they are in such a phase. */
function truthOf({ model, kind, pressurePa, speedRadS, drainM3S, share }: Case): NodeFlows {
  const full = model.pump.displacementM3PerRad * speedRadS - drainM3S
  const leak = curveOf(model).leakPerPa * pressurePa
  const at = (pump: number, system: number, relief: number, unload: number): NodeFlows => ({
    pump,
    system,
    relief,
    unload,
    residual: 0,
  })
  if (kind === 'idle-unloaded') return at(full, 0, 0, full)
  const deadHeaded = kind === 'idle-loaded' || kind === 'work-holding'
  if (!model.isFixed) return deadHeaded ? at(0, 0, 0, 0) : at(share * full, share * full, 0, 0)
  if (deadHeaded) return at(full, 0, full, 0)
  if (kind === 'work-moving') return at(full, full - leak, leak, 0)
  return at(full, share * full, full - share * full, 0)
}

/** What the fitted meters read of those flows, by where they sit. */
function readingsOf(of: Case, truth: NodeFlows, fitted: readonly Meter[]): Readings {
  const reads = (meter: Meter, flow: number) => (fitted.includes(meter) ? flow : Number.NaN)
  const openCentre = of.model.machine.unloading.kind === 'open-centre'
  return {
    pumpPressurePa: of.pressurePa,
    loadPressurePa: Number.NaN,
    pumpFlowM3S: reads('pump', truth.pump),
    systemFlowM3S: reads('system', truth.system + (openCentre ? truth.unload : 0)),
    returnFlowM3S: reads('return', truth.relief + (openCentre ? 0 : truth.unload)),
    caseDrainM3S: reads('case', of.drainM3S),
    currentA: Number.NaN,
    powerW: Number.NaN,
    voltageV: Number.NaN,
    speedRadS: of.speedRadS,
    pumpState: Number.NaN,
  }
}

/**
 * Whether meters and the kind fix all three branches: two of pump, system and the way to tank, where the kind
 * stands for a meter of what it rules out, and the case drain (at a known speed) for one of a full pump.
 */
function isDetermined({ model, kind }: Case, fitted: readonly Meter[]): boolean {
  const unloaded = kind === 'idle-unloaded'
  const openCentre = model.machine.unloading.kind === 'open-centre'
  const deadHeaded = kind === 'idle-loaded' || kind === 'work-holding'
  const pump = fitted.includes('pump') || (fitted.includes('case') && (model.isFixed || unloaded))
  const system = unloaded || deadHeaded || fitted.includes('system')
  const shut = !unloaded && (kind === 'work-moving' || !model.isFixed)
  const tank = shut || fitted.includes(unloaded && openCentre ? 'system' : 'return')
  return Number(pump) + Number(system) + Number(tank) >= 2
}

const solve = (of: Case, read: Readings) =>
  nodeFlows(read, of.kind, of.model, curveOf(of.model), of.pressurePa)
const RUNS = { numRuns: 200 }
const TINY = 1e-12

describe.each(SUBSETS.map((fitted) => [fitted.join(' + ') || 'no meter', fitted] as const))(
  '%s',
  (_, fitted) => {
    it('returns the flows exactly wherever meters and kind fix them', () => {
      fc.assert(
        fc.property(anyCase, (of) => {
          fc.pre(isDetermined(of, fitted))
          const truth = truthOf(of)
          const got = solve(of, readingsOf(of, truth, fitted))
          for (const key of ['pump', 'system', 'relief', 'unload', 'residual'] as const) {
            expect(Math.abs(got[key] - truth[key]), `${of.kind} ${key}`).toBeLessThan(TINY)
          }
        }),
        RUNS,
      )
    })
    it('closes the balance whatever the meters say, and alters no reading that its kind does not rule out', () => {
      const reading = fc.double({ min: -2 * M3S_PER_LPM, max: 100 * M3S_PER_LPM, noNaN: true })
      fc.assert(
        fc.property(anyCase, reading, reading, reading, (of, pump, system, tank) => {
          const said: NodeFlows = { pump, system, relief: tank, unload: 0, residual: 0 }
          const read = readingsOf(of, said, fitted)
          const got = solve(of, read)
          const unaccounted = got.pump - got.system - got.relief - got.unload - got.residual
          if (!Number.isNaN(got.pump)) expect(Math.abs(unaccounted)).toBeLessThan(TINY)
          if (fitted.includes('pump')) expect(Math.abs(got.pump - pump)).toBeLessThan(TINY)
          if (of.kind === 'idle-unloaded') {
            expect([got.system, got.relief]).toEqual([0, 0])
            return
          }
          expect(got.unload).toBe(0)
          if (fitted.includes('system')) expect(Math.abs(got.system - system)).toBeLessThan(TINY)
          if (fitted.includes('return')) expect(Math.abs(got.relief - tank)).toBeLessThan(TINY)
        }),
        RUNS,
      )
    })
  },
)

/** While a valve moves, oil may pass a relief that is shut in a steady stroke: 85 L/min from the pump, 70 into the line. */
describe('a moment between two phases', () => {
  const [plain, vented] = MODELS
  const read = (model: Model, fitted: readonly Meter[]): Readings => {
    const [pump, system] = [85 * M3S_PER_LPM, 70 * M3S_PER_LPM]
    const of: Case = {
      model,
      kind: 'work-moving',
      pressurePa: 60 * PA_PER_BAR,
      speedRadS: Number.NaN,
      drainM3S: 0,
      share: 0,
    }
    return readingsOf(of, { pump, system, relief: 0, unload: 0, residual: 0 }, fitted)
  }
  const flowsLpm = (model: Model, fitted: readonly Meter[], isSteady: boolean) => {
    const got = nodeFlows(read(model, fitted), 'work-moving', model, curveOf(model), 0, isSteady)
    return { relief: got.relief / M3S_PER_LPM, residual: got.residual / M3S_PER_LPM }
  }
  const leakLpm = 60 / 160

  it('pump and line meters outrank the shut relief, of whatever machine', () => {
    for (const model of [plain, vented]) {
      const steady = flowsLpm(model, ['pump', 'system'], true)
      expect(steady.relief).toBeCloseTo(leakLpm, 9)
      expect(steady.residual).toBeCloseTo(15 - leakLpm, 9)
      const moving = flowsLpm(model, ['pump', 'system'], false)
      expect(moving.relief).toBeCloseTo(15, 9)
      expect(moving.residual).toBe(0)
    }
  })

  it('a line meter and the pump’s model do where the valve may be one that vents the relief', () => {
    expect(flowsLpm(plain, ['system'], false).relief).toBeCloseTo(leakLpm, 9)
    // The pump's whole flow at 60 bar by hand: 90 − 4.5·60/160 = 88.3125 L/min.
    expect(flowsLpm(vented, ['system'], false).relief).toBeCloseTo(88.3125 - 70, 4)
  })
})
