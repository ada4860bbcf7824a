import { makeMotor } from '@/app/_plant/make-motor'
import { makePump } from '@/app/_plant/make-pump'
import { randomMachine } from '@/app/_plant/random-machine'
import type { FurtherPump, MachineSpec, PlantAuxiliary, Signal } from '@/app/_plant/spec'
import { normal, type Random, seededRandom } from '@/lib/numeric/random'
import { M3_PER_CM3 } from '@/lib/units'

/** Units with more than one pump, motor or consumer, made of the invented plant's random machines. */

const FLOWS: ReadonlySet<Signal> = new Set(['pumpFlowM3S', 'systemFlowM3S', 'reliefFlowM3S'])
const ELECTRIC: ReadonlySet<Signal> = new Set(['currentA', 'powerW'])

/** Meters of a larger range, and a relief that still passes the whole flow at its setting. */
export function enlarged(spec: MachineSpec, flow: number, electric: number): MachineSpec {
  return {
    ...spec,
    relief: { ...spec.relief, ratedM3S: spec.relief.ratedM3S * flow },
    plates: {
      ...spec.plates,
      relief: { ...spec.plates.relief, ratedFlowLpm: Math.round(spec.plates.relief.ratedFlowLpm * flow) },
    },
    sensors: spec.sensors.map((sensor) => {
      const factor = FLOWS.has(sensor.signal) ? flow : ELECTRIC.has(sensor.signal) ? electric : 1
      const fullScale = sensor.fullScale * factor
      return {
        ...sensor,
        fullScale,
        declared:
          sensor.declared && 'fullScale' in sensor.declared
            ? { ...sensor.declared, fullScale }
            : sensor.declared,
      }
    }),
  }
}

export const cm3Of = ({ pump }: Pick<MachineSpec, 'pump'>) => (pump.volumeM3 * 2 * Math.PI) / M3_PER_CM3

function pumpOf(spec: MachineSpec, displacementCm3: number, random: Random) {
  const { ratedPressureBar, volumetricEfficiency, overallEfficiency } = spec.plates.pump
  return makePump(
    {
      displacementCm3: Math.round(displacementCm3),
      ratedPressureBar,
      volumetricEfficiency,
      overallEfficiency: Math.min(overallEfficiency, volumetricEfficiency * 0.97),
    },
    random,
  )
}

export function withFirstPump(spec: MachineSpec, displacementCm3: number, random: Random): MachineSpec {
  const { pump, nameplate } = pumpOf(spec, displacementCm3, random)
  return { ...spec, pump, plates: { ...spec.plates, pump: nameplate } }
}

export function furtherPump(
  spec: MachineSpec,
  displacementCm3: number,
  random: Random,
  rest: Partial<FurtherPump> = {},
): FurtherPump {
  const { pump, nameplate } = pumpOf(spec, displacementCm3, random)
  return { pump, plate: nameplate, outletBar: null, unloadsAboveBar: null, ...rest }
}

/** The pump's displacement in two pumps on one shaft. */
function tandem(spec: MachineSpec, random: Random): MachineSpec {
  const cm3 = cm3Of(spec)
  return {
    ...withFirstPump(spec, 0.6 * cm3, random),
    furtherPumps: [furtherPump(spec, 0.4 * cm3, random)],
  }
}

/** A small pump for pressure and a large one that goes to tank above half of the setting. */
function highLow(spec: MachineSpec, random: Random): MachineSpec {
  const cm3 = cm3Of(spec)
  const setting = spec.plates.relief.settingBar
  const bigger = enlarged(spec, 1.35, 1)
  return {
    ...withFirstPump(bigger, 0.35 * cm3, random),
    furtherPumps: [furtherPump(spec, cm3, random, { unloadsAboveBar: Math.round(0.5 * setting) })],
    duty: {
      ...spec.duty,
      steps: [
        { kind: 'work-moving', durationS: [4, 5], load: [0.15, 0.3] },
        { kind: 'work-metering', durationS: [5, 7], load: [0.6, 0.7], flow: [0.08, 0.12] },
        { kind: 'work-holding', durationS: [3, 5], flow: [0, 0.004] },
        { kind: 'work-moving', durationS: [3, 4], load: [0.15, 0.25] },
      ],
    },
  }
}

/** A small gear pump on the shaft that keeps a pilot circuit at 25 bar. */
function pilotPump(spec: MachineSpec, random: Random): MachineSpec {
  return {
    ...spec,
    furtherPumps: [furtherPump(spec, Math.max(4, 0.2 * cm3Of(spec)), random, { outletBar: 25 })],
  }
}

/** A second set of half the size, or another one alike. */
function secondSet(spec: MachineSpec, random: Random, share: number): MachineSpec {
  const motor =
    share === 1
      ? spec.motor
      : makeMotor(Math.max(4, Math.round(share * spec.plates.motor.ratedPowerKW)), 50, random)
  const { pump, nameplate } = pumpOf(spec, share * cm3Of(spec), random)
  return {
    ...enlarged(spec, 1 + share, 1 + share),
    furtherSets: [{ motor, pump, plate: nameplate }],
  }
}

/** A cooler's pump and fan with the motor, a filter loop and a control that always run; plates a few per cent off. */
function auxiliaries(spec: MachineSpec, random: Random): MachineSpec {
  const kW = spec.plates.motor.ratedPowerKW
  const of = (name: string, share: number, when: PlantAuxiliary['when'], factor: number): PlantAuxiliary => {
    const declaredKW = Number((share * kW).toFixed(2))
    return {
      name,
      declaredKW,
      declaredPowerFactor: 0.8,
      powerKW: declaredKW * (1 + 0.05 * Math.max(-2, Math.min(2, normal(random)))),
      powerFactor: factor,
      when,
    }
  }
  return {
    ...enlarged(spec, 1, 1.15),
    auxiliaries: [
      of('cooler', 0.05, 'motor-running', 0.78),
      of('filter loop', 0.03, 'always', 0.74),
      of('control', 0.01, 'always', 0.9),
    ],
  }
}

export const ARRANGEMENTS = {
  tandem,
  'high-low': highLow,
  'pilot pump': pilotPump,
  'two sets alike': (spec: MachineSpec, random: Random) => secondSet(spec, random, 1),
  'two sets': (spec: MachineSpec, random: Random) => secondSet(spec, random, 0.5),
  auxiliaries,
  'two sets and auxiliaries': (spec: MachineSpec, random: Random) =>
    auxiliaries(secondSet(spec, random, 0.5), random),
} as const
export type Arrangement = keyof typeof ARRANGEMENTS

export function severalMachine(arrangement: Arrangement, seed: number, sensors: 'a' | 'c'): MachineSpec {
  const spec = randomMachine(seed, sensors)
  const made = ARRANGEMENTS[arrangement](spec, seededRandom(seed ^ 0x5eed))
  return { ...made, name: `${arrangement} ${sensors}${seed}` }
}
