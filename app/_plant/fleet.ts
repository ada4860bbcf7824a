import { seededRandom } from '@/lib/numeric/random'
import { M3S_PER_LPM } from '@/lib/units'
import type { Duty } from './duty'
import type { Habit } from './habits'
import { makeMotor } from './make-motor'
import { makePump, type PumpWish } from './make-pump'
import { makeRelief, type ReliefWish } from './make-relief'
import { makeSensor } from './make-sensor'
import type { MachineSpec, Sensor } from './spec'
import * as trade from './trades'

export interface FleetMachine {
  readonly id: string
  readonly line: string
  readonly trade: string
  readonly habit: Habit
  readonly rateHz: number
  readonly spec: MachineSpec
}

interface Plan {
  readonly seed: number
  readonly name: string
  readonly ratedKW: number
  readonly frequencyHz?: 50 | 60
  readonly supplyShare: number
  readonly starter?: MachineSpec['starter']
  readonly pump: PumpWish
  readonly relief: Omit<ReliefWish, 'ratedFlowLpm'>
  readonly unloading?: MachineSpec['unloading']
  readonly duty: Duty
  readonly oil: MachineSpec['oil']
  readonly sensors: readonly Sensor[]
  readonly longestHoldS?: number
}

function build(plan: Plan): MachineSpec {
  const random = seededRandom(plan.seed)
  const motor = makeMotor(plan.ratedKW, plan.frequencyHz ?? 50, random)
  const pump = makePump(plan.pump, random)
  const flowLpm = (pump.pump.volumeM3 * pump.pump.ratedRadS * plan.pump.volumetricEfficiency) / M3S_PER_LPM
  const relief = makeRelief({ ...plan.relief, ratedFlowLpm: Math.ceil(flowLpm) }, random)
  return {
    name: plan.name,
    motor,
    plates: { motor: motor.nameplate, pump: pump.nameplate, relief: relief.nameplate },
    supplyV: motor.nameplate.ratedVoltageV * plan.supplyShare,
    starter: plan.starter ?? 'direct',
    pump: pump.pump,
    relief: relief.relief,
    unloading: plan.unloading ?? { kind: 'none', pressureBar: 5 },
    duty: plan.duty,
    oil: plan.oil,
    sensors: plan.sensors,
    ...(plan.longestHoldS === undefined ? {} : { longestHoldS: plan.longestHoldS }),
  }
}

const GERMAN = {
  pressure: { column: 'Druck Pumpe [bar]' },
  flow: { column: 'Volumenstrom Leitung [l/min]' },
  current: { column: 'Strom Motor [A]' },
  oil: { column: 'Öltemperatur [°C]' },
}
const oil = (startC: number, settledC: number) => ({ startC, settledC, timeConstantS: 2400 })

/** Eight machines of a works that does not exist, each copied from no real one. */
export function fleet(): FleetMachine[] {
  return [
    {
      id: 'baler-2',
      line: 'Line A',
      trade: 'baler',
      habit: 'semicolon-comma',
      rateHz: 2,
      spec: build({
        seed: 2201,
        name: 'Baler 2',
        ratedKW: 22,
        supplyShare: 1.006,
        pump: {
          displacementCm3: 52,
          ratedPressureBar: 160,
          volumetricEfficiency: 0.93,
          overallEfficiency: 0.85,
        },
        relief: { kind: 'pilot-operated', settingBar: 160 },
        duty: trade.BALER,
        oil: oil(36, 50),
        sensors: [
          makeSensor('pumpPressurePa', 250, GERMAN.pressure),
          makeSensor('systemFlowM3S', 100, { ...GERMAN.flow, offsetPercent: 0.7 }),
          makeSensor('currentA', 60, { ...GERMAN.current, offsetPercent: 0.8 }),
        ],
      }),
    },
    {
      id: 'shear-1',
      line: 'Line A',
      trade: 'shear',
      habit: 'comma-iso',
      rateHz: 4,
      spec: build({
        seed: 1502,
        name: 'Shear 1',
        ratedKW: 15,
        supplyShare: 0.992,
        pump: {
          displacementCm3: 30,
          ratedPressureBar: 180,
          volumetricEfficiency: 0.91,
          overallEfficiency: 0.82,
        },
        relief: { kind: 'direct-acting', settingBar: 180 },
        duty: trade.SHEAR,
        oil: oil(40, 52),
        sensors: [
          makeSensor('pumpPressurePa', 250),
          makeSensor('pumpFlowM3S', 60, { offsetPercent: 0.7 }),
          makeSensor('currentA', 60, { offsetPercent: 0.7 }),
        ],
      }),
    },
    {
      id: 'press-4',
      line: 'Line B',
      trade: 'deep-drawing press',
      habit: 'split-columns',
      rateHz: 4,
      spec: build({
        seed: 4503,
        name: 'Deep-drawing press 4',
        ratedKW: 45,
        supplyShare: 1.004,
        starter: 'star-delta',
        pump: {
          displacementCm3: 82,
          ratedPressureBar: 200,
          volumetricEfficiency: 0.94,
          overallEfficiency: 0.86,
        },
        relief: { kind: 'pilot-operated', settingBar: 200 },
        duty: trade.DEEP_DRAWING,
        oil: oil(41, 51),
        sensors: [
          makeSensor('pumpPressurePa', 250),
          makeSensor('loadPressurePa', 250, { column: 'Cylinder pressure [bar]' }),
          makeSensor('pumpFlowM3S', 160),
          makeSensor('reliefFlowM3S', 160),
          makeSensor('powerW', 60),
          makeSensor('cycleActive', 1),
        ],
      }),
    },
    {
      id: 'tilt-1',
      line: 'Line B',
      trade: 'die-caster tilt',
      habit: 'semicolon-comma',
      rateHz: 2,
      spec: build({
        seed: 1104,
        name: 'Die-caster tilt 1',
        ratedKW: 11,
        supplyShare: 0.997,
        pump: {
          displacementCm3: 34,
          ratedPressureBar: 110,
          volumetricEfficiency: 0.92,
          overallEfficiency: 0.83,
        },
        relief: { kind: 'direct-acting', settingBar: 110 },
        unloading: { kind: 'open-centre', pressureBar: 6 },
        duty: trade.TILT,
        oil: oil(44, 53),
        sensors: [
          makeSensor('pumpPressurePa', 160, GERMAN.pressure),
          makeSensor('systemFlowM3S', 60, { ...GERMAN.flow, offsetPercent: 0.7 }),
          makeSensor('currentA', 40, { ...GERMAN.current, offsetPercent: 0.7 }),
          makeSensor('oilC', 100, GERMAN.oil),
        ],
      }),
    },
    {
      id: 'lift-3',
      line: 'Line C',
      trade: 'lift table',
      habit: 'comma-iso',
      rateHz: 1,
      spec: build({
        seed: 505,
        name: 'Lift table 3',
        ratedKW: 5.5,
        supplyShare: 1.01,
        pump: {
          displacementCm3: 11,
          ratedPressureBar: 150,
          volumetricEfficiency: 0.9,
          overallEfficiency: 0.8,
        },
        relief: { kind: 'direct-acting', settingBar: 150 },
        duty: trade.LIFT,
        oil: oil(38, 46),
        sensors: [
          makeSensor('pumpPressurePa', 250),
          makeSensor('systemFlowM3S', 25, { offsetPercent: 0.7 }),
          makeSensor('currentA', 25),
        ],
      }),
    },
    {
      id: 'broach-1',
      line: 'Line C',
      trade: 'broaching machine',
      habit: 'comma-iso',
      rateHz: 4,
      spec: build({
        seed: 3706,
        name: 'Broaching machine 1',
        ratedKW: 37,
        supplyShare: 0.995,
        pump: {
          displacementCm3: 100,
          ratedPressureBar: 140,
          volumetricEfficiency: 0.93,
          overallEfficiency: 0.85,
        },
        // Worn: a pilot-operated valve should hold to 0.9 of its setting.
        relief: { kind: 'pilot-operated', settingBar: 140, crackRatio: 0.66 },
        duty: trade.BROACH,
        oil: oil(42, 50),
        sensors: [
          makeSensor('pumpPressurePa', 200),
          makeSensor('loadPressurePa', 200, { column: 'Ram pressure [bar]' }),
          makeSensor('pumpFlowM3S', 160),
          makeSensor('reliefFlowM3S', 160),
          makeSensor('powerW', 60),
        ],
      }),
    },
    {
      id: 'stand-2',
      line: 'Test shop',
      trade: 'test stand',
      habit: 'tab-us',
      rateHz: 2,
      spec: build({
        seed: 5507,
        name: 'Test stand 2',
        ratedKW: 55,
        supplyShare: 1.008,
        starter: 'star-delta',
        pump: {
          displacementCm3: 125,
          ratedPressureBar: 160,
          volumetricEfficiency: 0.93,
          overallEfficiency: 0.85,
        },
        relief: { kind: 'pilot-operated', settingBar: 160 },
        duty: trade.TEST_STAND,
        oil: oil(50, 54),
        sensors: [
          makeSensor('pumpPressurePa', 3000, { column: 'Pump Press (psi)', unit: 'psi', decimals: 0 }),
          makeSensor('systemFlowM3S', 60, { column: 'Line Flow (gpm)', unit: 'gpm', decimals: 2 }),
          makeSensor('currentA', 160, { column: 'Motor Amps (A)', decimals: 1 }),
        ],
      }),
    },
    {
      id: 'fixtures-5',
      line: 'Line D',
      trade: 'machining fixtures',
      habit: 'split-columns',
      rateHz: 4,
      spec: build({
        seed: 708,
        name: 'Machining fixtures 5',
        ratedKW: 7.5,
        supplyShare: 1.002,
        pump: {
          displacementCm3: 22,
          ratedPressureBar: 110,
          volumetricEfficiency: 0.93,
          overallEfficiency: 0.84,
        },
        relief: { kind: 'pilot-operated', settingBar: 110 },
        unloading: { kind: 'vented-relief', pressureBar: 3.5 },
        duty: trade.FIXTURES,
        oil: oil(40, 46),
        sensors: [
          makeSensor('pumpPressurePa', 160),
          makeSensor('systemFlowM3S', 40, { offsetPercent: 0.7 }),
          makeSensor('currentA', 25),
        ],
      }),
    },
  ]
}
