import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import { accountOf } from '@/lib/ledger/account'
import { ACCOUNT_KEYS, accountArrays } from '@/lib/ledger/account-series'
import {
  electricPower,
  kindAtPressure,
  nodeFlows,
  noStreams,
  type Readings,
  streamsAt,
} from '@/lib/ledger/operating-point'
import { at, PARAMETERS } from '@/lib/ledger/parameters'
import { corrected, offsetsOf } from '@/lib/ledger/readings'
import { isSteady, loadShares, stepFrame } from '@/lib/ledger/step-frame'
import { machineModel } from '@/lib/machine/machine-model'
import { normal, seededRandom } from '@/lib/numeric/random'
import { MEAN_OF, type Step, stretchOf } from '@/lib/phases/stretch'
import { inFull } from '@/lib/samples/samples'
import type { Sensor, Sensors } from '@/lib/samples/sensors'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import { HAND_MACHINE } from '../../laws/hand-machine'

/** The account works array by array; one moment after the other, by the rules of operating-point.ts, gives the same. */
const MODELS = [
  HAND_MACHINE,
  { ...HAND_MACHINE, unloading: { kind: 'open-centre' as const, pressureBar: 5 } },
  { ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' as const } },
  { ...HAND_MACHINE, motor: { ...HAND_MACHINE.motor, drive: { meter: 'before-drive' as const } } },
  {
    ...HAND_MACHINE,
    furtherPumps: [
      { ...HAND_MACHINE.pump, displacementCm3: 30, outlet: 'common' as const, unloadsAboveBar: 90 },
    ],
  },
].map((machine) => machineModel(machine))

const METERS = {
  loadPressure: 60 * PA_PER_BAR,
  pumpFlow: 80 * M3S_PER_LPM,
  systemFlow: 50 * M3S_PER_LPM,
  returnFlow: 30 * M3S_PER_LPM,
  caseDrain: 3 * M3S_PER_LPM,
  current: 40,
  power: 20_000,
  voltage: 400,
  speed: 150,
} as const
type Meter = keyof typeof METERS
const READ = Object.keys(offsetsOf(new Float64Array(PARAMETERS.length))) as (keyof Readings)[]
const SAMPLES = 12
const HOLD_S = 0.25
const CURRENT_LIMIT_A = 0.5

const anyCase = fc.record({
  model: fc.constantFrom(...MODELS),
  kinds: fc.array(fc.constantFrom(...PHASE_KINDS), { minLength: 1, maxLength: 4 }),
  meters: fc.subarray(Object.keys(METERS) as Meter[]),
  bar: fc.integer({ min: 2, max: 165 }),
  missing: fc.double({ min: 0, max: 0.5, noNaN: true }),
  seed: fc.integer({ min: 1, max: 1e6 }),
})
type Case = typeof anyCase extends fc.Arbitrary<infer T> ? T : never

function sensorsOf({ model, kinds, meters, bar, missing, seed }: Case): Sensors {
  const count = kinds.length * SAMPLES
  const random = seededRandom(seed)
  const sensor = (column: string, level: number, lost: number): Sensor => ({
    column,
    values: Float64Array.from({ length: count }, () =>
      random() < lost ? Number.NaN : level * (1 + 0.3 * normal(random)),
    ),
    limit: 0.01 * level,
  })
  const none = Object.fromEntries(READ.map((name) => [MEAN_OF[name], null]))
  // Where no pump unloads, nothing tells a state.
  const states = Float64Array.from({ length: count }, (_, i) => Math.floor(i / SAMPLES) % 2)
  const pumpState = model.pump.latch && { column: '', values: states, limit: 0 }
  const fitted = meters.map((name) => [name, sensor(name, METERS[name], missing)])
  return {
    ...none,
    ...Object.fromEntries(fitted),
    count,
    pumpPressure: sensor('pumpPressure', bar * PA_PER_BAR, missing),
    pumpState,
    cycleActive: null,
    idleSignal: null,
    solenoid: null,
  } as Sensors
}

describe('the account, array by array', () => {
  it('is what one moment after the other comes to, for every kind and set of meters', () => {
    fc.assert(
      fc.property(anyCase, (of) => {
        const { model, kinds } = of
        const sensors = sensorsOf(of)
        const holdS = new Float64Array(sensors.count).fill(HOLD_S)
        const steps = kinds.map((kind: PhaseKind, k): Step => {
          const from = k * SAMPLES
          return { ...stretchOf(sensors, { holdS }, from, from + SAMPLES, k === 0), kind }
        })
        const values = new Float64Array(PARAMETERS.length)
        values[at('pumpPressureOffset')] = 0.5 * PA_PER_BAR
        values[at('currentOffset')] = 0.3
        const curve = { ...model.relief, leakPerPa: 1e-14 }
        const account = accountOf(steps, sensors, model, curve, values, CURRENT_LIMIT_A, holdS)
        const series = accountArrays(sensors.count)
        account.fill(0, sensors.count, series)

        const shares = loadShares(steps, values)
        const offsets = offsetsOf(values)
        const streams = noStreams()
        steps.forEach((step, k) => {
          const { kind, means } = step
          const mean = corrected(means, values)
          const frame = stepFrame(
            { kind, isSteady: isSteady(step) },
            mean,
            shares,
            model,
            curve,
            CURRENT_LIMIT_A,
          )
          const sums = noStreams()
          for (let i = step.from; i < step.to; i++) {
            const read = { ...mean }
            for (const name of READ) {
              const sensor = sensors[MEAN_OF[name]]
              const value = sensor ? inFull(sensor.values)[i] : Number.NaN
              if (!Number.isNaN(value)) read[name] = value - offsets[name]
            }
            const here = kindAtPressure(kind, read.pumpPressurePa, model, curve)
            const reliefPa = here === kind ? frame.reliefPa : read.pumpPressurePa
            const flows = nodeFlows(read, here, model, curve, reliefPa, frame.isSteady)
            const power = electricPower(read, here, model, flows.pump, frame.currentWeight)
            streamsAt(read, here, flows, power, frame, streams)
            for (const key of ACCOUNT_KEYS) {
              expectNear(series[key][i], streams[key], `${here} ${key}`)
              sums[key] += streams[key] * HOLD_S
            }
          }
          ACCOUNT_KEYS.forEach((key, j) => {
            const got = account.energiesJ[k * ACCOUNT_KEYS.length + j]
            expectNear(got, sums[key], `${kind} ${key}, J`)
          })
        })
      }),
      { numRuns: 400 },
    )
  })
})

/** Equal but for the rounding of some 20 kW; NaN only where NaN is wanted. */
function expectNear(got: number, wanted: number, what: string) {
  if (Number.isNaN(wanted)) expect(got, what).toBeNaN()
  else expect(Math.abs(got - wanted), what).toBeLessThan(1e-6)
}
