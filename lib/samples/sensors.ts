import type { Location, Quantity } from '@/lib/contract/machine'
import { TankwardError } from '@/lib/errors'
import { siOf } from '@/lib/units'
import { type SensorFault, takeOutSpikes, takeOutStuck } from './faults'
import { highestLoad } from './highest-load'
import { holdMissing } from './hold-missing'
import { type LoadZero, loadZeros } from './load-zeros'
import { type ChannelSamples, readerOf, without } from './samples'
import type { Channel, Trace } from './trace'

/** One sensor's samples in SI with short dropouts held, and its 95 % limit of constant offset. */
export interface Sensor {
  readonly column: string
  /** The trace's own where nothing was missing and none of its readings was taken out: not to be written to. */
  values: ChannelSamples
  readonly limit: number
}

/** The fitted sensors by what they mean; null where none is fitted. */
export interface Sensors {
  readonly count: number
  readonly pumpPressure: Sensor
  /** The highest of the load pressures, sample by sample, on one zero. */
  readonly loadPressure: Sensor | null
  /** What was taken off each of several load pressures before the highest was told; empty where one is fitted. */
  readonly loadZeros: readonly LoadZero[]
  readonly pumpFlow: Sensor | null
  readonly systemFlow: Sensor | null
  readonly returnFlow: Sensor | null
  /** Leakage that leaves by the pump's case. */
  readonly caseDrain: Sensor | null
  /** Back pressure in the line to tank. */
  readonly tankPressure: Sensor | null
  readonly current: Sensor | null
  /** Electric input in W where it is measured: power, or current with voltage and power factor. */
  readonly power: Sensor | null
  readonly voltage: Sensor | null
  readonly speed: Sensor | null
  /** State of the pumps that unload by the line's pressure: no sensor has it, the phases tell it from the others. */
  readonly pumpState: Sensor | null
  readonly cycleActive: Sensor | null
  readonly idleSignal: Sensor | null
  /** Some valve of the machine is energised. */
  readonly solenoid: Sensor | null
  /** Readings that were none: spikes and stuck stretches, taken out above. */
  readonly faults: readonly SensorFault[]
}

const DEFAULT_ACCURACY_SHARE = 0.01
const SQRT3 = Math.sqrt(3)

/** Largest magnitude among readings, missing ones left out. */
function largestReading(values: ChannelSamples): number {
  let largest = 0
  const readings = readerOf(values).distinct()
  // Counted, not iterated: over millions of readings that takes a quarter of the time.
  for (let i = 0; i < readings.length; i++) {
    const size = Math.abs(readings[i])
    if (size > largest) largest = size
  }
  return largest
}

/** 95 % limit of a channel's constant offset in SI: its accuracy, or 1 % of its largest reading. */
function offsetLimit(channel: Channel): number {
  const accuracy = channel.accuracy
  if (accuracy && 'fullScale' in accuracy) {
    return (accuracy.percentOfFullScale / 100) * accuracy.fullScale * siOf(channel.unit).factor
  }
  const largest = largestReading(channel.values)
  return accuracy ? (accuracy.percentOfReading / 100) * largest : DEFAULT_ACCURACY_SHARE * largest
}

function combine(sensors: readonly Sensor[], merge: (values: number[]) => number): Sensor {
  const values = new Float64Array(sensors[0].values.length)
  const readers = sensors.map((sensor) => readerOf(sensor.values))
  for (let i = 0; i < values.length; i++) values[i] = merge(readers.map((reader) => reader.at(i)))
  return {
    column: sensors.map((sensor) => sensor.column).join(', '),
    values,
    limit: Math.max(...sensors.map((sensor) => sensor.limit)),
  }
}

const highest = (values: number[]) => {
  const present = values.filter((value) => !Number.isNaN(value))
  return present.length ? Math.max(...present) : Number.NaN
}

/** Below this share of the rated voltage no motor runs: what is read there is a contactor that is open. */
const LEAST_VOLTAGE_SHARE = 0.5

/** A supply lies within this share of the rated voltage, 95 % (common practice, no source). */
const ASSUMED_VOLTAGE_SHARE = 0.03

/** Whether some readings differ. */
function changes(values: ChannelSamples): boolean {
  const reader = readerOf(values)
  let first = 0
  while (first < reader.length && Number.isNaN(reader.at(first))) first++
  for (let i = first + 1; i < reader.length; i++)
    if (Math.abs(reader.at(i) - reader.at(first)) > 0) return true
  return false
}

/** The highest of several signals: on where any of them is. One that never changes tells nothing. */
function anyOf(signals: readonly Sensor[]): Sensor | null {
  const telling = signals.filter(({ values }) => changes(values))
  return telling.length > 1 ? combine(telling, highest) : (telling[0] ?? null)
}

/** Electric power from current, voltage and power factor; its limit is the current's at the highest voltage. */
function powerFrom(current: Sensor, voltage: Sensor, powerFactor: Sensor): Sensor {
  const highestV = largestReading(voltage.values)
  return {
    ...combine([current, voltage, powerFactor], ([amps, volts, cosine]) => SQRT3 * amps * volts * cosine),
    limit: SQRT3 * current.limit * highestV,
  }
}

/** The same at the rated voltage, whose deviation widens the limit. */
function powerAtRatedVoltage(current: Sensor, powerFactor: Sensor, ratedVoltageV: number): Sensor {
  const power = combine([current, powerFactor], ([amps, cosine]) => SQRT3 * amps * ratedVoltageV * cosine)
  const limit = Math.hypot(
    SQRT3 * current.limit * ratedVoltageV,
    ASSUMED_VOLTAGE_SHARE * largestReading(power.values),
  )
  return { ...power, limit }
}

function measuredPower(
  current: Sensor | null,
  voltage: Sensor | null,
  powerFactor: Sensor | null,
  ratedVoltageV: number,
): Sensor | null {
  if (!current || !powerFactor) return null
  if (voltage) return powerFrom(current, voltage, powerFactor)
  return Number.isNaN(ratedVoltageV) ? null : powerAtRatedVoltage(current, powerFactor, ratedVoltageV)
}

/** Readings up to a limit; those beyond it are no readings. */
const below = (values: ChannelSamples, limit: number): ChannelSamples =>
  without(values, (value) => value > limit)

/** Readings from a limit on; those below it are no readings. */
const above = (values: ChannelSamples, limit: number): ChannelSamples =>
  without(values, (value) => value < limit)

/**
 * Sorts a trace's channels by what they mean. Pressures above `highestPa` are spikes of the sensor and count as
 * missing; so do spikes and stuck stretches of any one sensor (`faults`). Several load pressures are
 * brought to one zero and give the highest, which is what the supply must reach; measured power outranks current with power factor and voltage, logged or rated.
 * @throws TankwardError `needs-pump-pressure` where no pump pressure is logged
 */
export function readSensors(
  trace: Trace,
  highestPa = Number.POSITIVE_INFINITY,
  ratedVoltageV = Number.NaN,
): Sensors {
  const all = (quantity: Quantity, location?: Location): Sensor[] =>
    trace.channels
      .filter(
        (channel) =>
          channel.quantity === quantity && (location === undefined || channel.location === location),
      )
      .map((channel) => {
        const values = quantity === 'pressure' ? below(channel.values, highestPa) : channel.values
        return {
          column: channel.column,
          values: holdMissing(values, trace),
          limit: offsetLimit({ ...channel, values }),
        }
      })
  const one = (quantity: Quantity, location?: Location) => all(quantity, location)[0] ?? null
  const logged = new Set(trace.channels.map(({ values }) => values))

  const pumpPressure = one('pressure', 'pump-outlet')
  if (!pumpPressure) {
    throw new TankwardError('needs-pump-pressure', {
      found: trace.channels.map((channel) => `${channel.column}: ${channel.quantity}`).join(', '),
    })
  }
  const loads = all('pressure', 'load')
  const current = one('current')
  const voltage = one('voltage')
  const powerFactor = one('power-factor')
  const pumpFlow = one('flow', 'pump-outlet')
  const systemFlow = one('flow', 'system-line')
  const returnFlow = one('flow', 'relief-return')
  const power = one('power') ?? measuredPower(current, voltage, powerFactor, ratedVoltageV)
  const measuring = (pressures: readonly Sensor[]) =>
    [...pressures, pumpFlow, systemFlow, returnFlow, current, power].filter((sensor) => sensor !== null)
  // A spike of one load sensor would pass for the highest load and for its zero.
  const spikes = takeOutSpikes(measuring([pumpPressure, ...loads]), trace, logged)
  const zeros = loadZeros(loads, pumpPressure, trace)
  const loadPressure = loads.length > 1 ? highestLoad(loads, zeros) : (loads[0] ?? null)
  // A single load may rest while the others work: the highest of them is what must move with the machine.
  const moving = measuring(loadPressure ? [pumpPressure, loadPressure] : [pumpPressure])
  const stuck = takeOutStuck(moving, trace, logged)
  return {
    count: trace.timeS.length,
    pumpPressure,
    loadPressure,
    loadZeros: zeros,
    pumpFlow,
    systemFlow,
    returnFlow,
    caseDrain: one('flow', 'case-drain'),
    tankPressure: one('pressure', 'tank-line'),
    current,
    power,
    voltage: voltage && { ...voltage, values: above(voltage.values, LEAST_VOLTAGE_SHARE * ratedVoltageV) },
    speed: one('speed'),
    pumpState: null,
    cycleActive: one('signal', 'cycle-active'),
    idleSignal: one('signal', 'idle'),
    solenoid: anyOf(all('signal', 'solenoid')),
    faults: [...spikes, ...stuck],
  }
}
