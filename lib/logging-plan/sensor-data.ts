import type { Accuracy, Machine } from '@/lib/contract/machine'
import { type MachineModel, machineModel } from '@/lib/machine/machine-model'
import { M3S_PER_LPM, PA_PER_BAR, RADS_PER_RPM, type Unit, W_PER_KW } from '@/lib/units'
import { type StationId, stationsOf } from './stations'

/** One number of the machine that a range is worked out from. */
export interface RangeInput {
  readonly code:
    | 'relief-setting'
    | 'full-flow'
    | 'leakage'
    | 'rated-current'
    | 'rated-input'
    | 'rated-voltage'
    | 'synchronous-speed'
    | 'usual-back-pressure'
  readonly value: number
  readonly unit: Unit
  /** False where the plate does not say it and a stated default stands in. */
  readonly stated: boolean
}

/** What a sensor at a station must be able to do. */
export interface SensorData {
  readonly signal: 'analogue' | 'pulses' | 'meter' | 'clamp' | 'digital'
  /** Least end of its range: `factor` × `input`; null for a signal. */
  readonly range: {
    readonly least: number
    /** The usual range from there on. */
    readonly usual: number
    readonly unit: Unit
    readonly factor: number
    readonly input: RangeInput
  } | null
  readonly accuracy: Accuracy | null
  /** Whether the machine's set-up declares that accuracy for the sensor in use, or it is what to ask for. */
  readonly accuracyDeclared: boolean
  /** What it must stand beyond its range for moments: pressure peaks, starting current; in `unit`. */
  readonly overload: { readonly value: number; readonly factor: number } | null
}

/** Room above the relief setting (rule of the brief for pressure; common practice for the others, no source). */
const PRESSURE_ROOM = 1.5
const FLOW_ROOM = 1.25
const DRAIN_ROOM = 4
const POWER_ROOM = 1.6
const VOLTAGE_ROOM = 1.25
const SPEED_ROOM = 1.2
/** The clamp must show an inrush, which is told by about twice rated current (domain rule), and stay whole at a start. */
const CURRENT_ROOM = 2
/** Locked-rotor current of a cage motor over its rated one: 6 to 8 (common practice, no source). */
const STARTING_FACTOR = 8
/** Peaks that a valve throws at a sensor, over the end of its range (common practice, no source). */
const PEAK_FACTOR = 2
/** Back pressure of return filter and cooler seldom goes beyond it (common practice, no source). */
const BACK_PRESSURE_BAR = 6

/** No pump in use leaks less, over its full flow, whatever its plate says (common practice, no source). */
const LEAST_LEAK_SHARE = 0.02

/** Ends of ranges as sensors are sold: steps of 1, 1.6, 2.5, 4, 6 of pressure gauges (EN 837-1, from memory). */
const PRESSURE_STEPS = [1, 1.6, 2.5, 4, 6, 10]
/** Steps of clamps and meters (common practice, no source). */
const OTHER_STEPS = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10]

/** The next usual end of a range at or above a value. */
export function usualRange(least: number, steps: readonly number[]): number {
  const decade = 10 ** Math.floor(Math.log10(least))
  const step = steps.find((one) => one * decade >= least * (1 - 1e-9)) ?? 10
  return Number((step * decade).toPrecision(6))
}

/** Accuracies a technician can hire (common practice, no source); 95 % limits as the contract takes them. */
const PERCENT = { pressure: 0.5, flow: 1, drain: 2, power: 0.5, clamp: 1, voltage: 0.5, speed: 0.2 } as const

function data(
  signal: SensorData['signal'],
  factor: number,
  input: RangeInput,
  percentOfFullScale: number,
  steps: readonly number[] = OTHER_STEPS,
): SensorData {
  const least = factor * input.value
  const usual = usualRange(least, steps)
  return {
    signal,
    range: { least, usual, unit: input.unit, factor, input },
    accuracy: { percentOfFullScale, fullScale: usual },
    accuracyDeclared: false,
    overload: null,
  }
}

const overloaded = (of: SensorData, factor: number, from: number): SensorData => ({
  ...of,
  overload: { value: factor * from, factor },
})

/** The largest flow of all pumps that feed the line, before leakage, m³/s. */
const fullFlowM3S = ({ pump, motor }: MachineModel) => pump.theoreticalM3S(0, motor.speedRadS(0))

/** Range, accuracy and signal of a sensor at a station of this machine; its accuracy as declared where one is in use. */
export function sensorDataOf(id: StationId, machine: Machine): SensorData {
  const asked = askedOf(id, machine)
  const used = machine.channels?.find((channel) => channel.accuracy && stationsOf([channel]).includes(id))
  if (!used?.accuracy || used.unit !== asked.range?.unit) return asked
  return { ...asked, accuracy: used.accuracy, accuracyDeclared: true }
}

/** The same as it is to be asked for. */
function askedOf(id: StationId, machine: Machine): SensorData {
  const model = machineModel(machine)
  const { motor, pump, relief } = model
  const plate = (code: RangeInput['code'], value: number, unit: Unit, stated = true): RangeInput => ({
    code,
    value,
    unit,
    stated,
  })
  const setting = plate('relief-setting', relief.settingPa / PA_PER_BAR, 'bar')
  const fullFlow = plate('full-flow', fullFlowM3S(model) / M3S_PER_LPM, 'L/min')
  switch (id) {
    case 'pressure:pump-outlet':
    case 'pressure:load': {
      const of = data('analogue', PRESSURE_ROOM, setting, PERCENT.pressure, PRESSURE_STEPS)
      return overloaded(of, PEAK_FACTOR, of.range?.usual ?? 0)
    }
    case 'pressure:tank-line': {
      const input = plate('usual-back-pressure', BACK_PRESSURE_BAR, 'bar', false)
      const of = data('analogue', PRESSURE_ROOM, input, PERCENT.pressure, PRESSURE_STEPS)
      return overloaded(of, PEAK_FACTOR, of.range?.usual ?? 0)
    }
    case 'flow:pump-outlet':
    case 'flow:system-line':
    case 'flow:relief-return':
      return data('pulses', FLOW_ROOM, fullFlow, PERCENT.flow)
    case 'flow:case-drain': {
      const leakage = pump.leakageM3S(relief.settingPa) / M3S_PER_LPM
      const least = LEAST_LEAK_SHARE * fullFlow.value
      const input = plate('leakage', Math.max(leakage, least), 'L/min', leakage >= least)
      return data('pulses', DRAIN_ROOM, input, PERCENT.drain)
    }
    case 'power:motor-supply':
      return data(
        'meter',
        POWER_ROOM,
        plate('rated-input', motor.ratedInputW / W_PER_KW, 'kW', machine.motor.ratedEfficiency !== undefined),
        PERCENT.power,
      )
    case 'current:motor-supply': {
      const stated = machine.motor.ratedCurrentA !== undefined
      const input = plate('rated-current', motor.ratedCurrentA, 'A', stated)
      const of = data('clamp', CURRENT_ROOM, input, PERCENT.clamp)
      return overloaded(of, STARTING_FACTOR, motor.ratedCurrentA)
    }
    case 'voltage:motor-supply':
      return data('meter', VOLTAGE_ROOM, plate('rated-voltage', motor.ratedVoltageV, 'V'), PERCENT.voltage)
    case 'speed:motor-shaft': {
      const rpm = motor.synchronousRadS / RADS_PER_RPM
      return data('pulses', SPEED_ROOM, plate('synchronous-speed', rpm, 'rpm'), PERCENT.speed)
    }
    case 'signal:cycle-active':
    case 'signal:idle':
    case 'signal:solenoid':
      return { signal: 'digital', range: null, accuracy: null, accuracyDeclared: false, overload: null }
  }
}
