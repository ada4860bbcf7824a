import type { Location, Quantity } from '@/lib/contract/machine'
import { TankwardError } from '@/lib/errors'
import { siOf } from '@/lib/units'
import { holdMissing } from './hold-missing'
import type { Channel, Trace } from './trace'

/** One sensor's samples in SI with short dropouts held, and its 95 % limit of constant offset. */
export interface Sensor {
  readonly column: string
  readonly values: Float64Array
  readonly limit: number
}

/** The fitted sensors by what they mean; null where none is fitted. */
export interface Sensors {
  readonly count: number
  readonly pumpPressure: Sensor
  /** The highest of the load pressures, sample by sample. */
  readonly loadPressure: Sensor | null
  readonly pumpFlow: Sensor | null
  readonly systemFlow: Sensor | null
  readonly returnFlow: Sensor | null
  readonly current: Sensor | null
  /** Electric input in W where it is measured: power, or current with voltage and power factor. */
  readonly power: Sensor | null
  readonly speed: Sensor | null
  readonly cycleActive: Sensor | null
  readonly idleSignal: Sensor | null
}

const DEFAULT_ACCURACY_SHARE = 0.01
const SQRT3 = Math.sqrt(3)

/** Largest magnitude among readings, missing ones left out. */
function largestReading(values: Float64Array): number {
  let largest = 0
  for (const value of values) if (Math.abs(value) > largest) largest = Math.abs(value)
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
  for (let i = 0; i < values.length; i++) values[i] = merge(sensors.map((sensor) => sensor.values[i]))
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

/** Electric power from current, voltage and power factor; its limit is the current's at the highest voltage. */
function powerFrom(current: Sensor, voltage: Sensor, powerFactor: Sensor): Sensor {
  const highestV = largestReading(voltage.values)
  return {
    ...combine([current, voltage, powerFactor], ([amps, volts, cosine]) => SQRT3 * amps * volts * cosine),
    limit: SQRT3 * current.limit * highestV,
  }
}

/** Readings up to a limit; those beyond it are no readings. */
function below(values: Float64Array, limit: number): Float64Array {
  return Number.isFinite(limit) ? values.map((value) => (value > limit ? Number.NaN : value)) : values
}

/**
 * Sorts a trace's channels by what they mean. Pressures above `highestPa` are spikes of the sensor and count as
 * missing. Several load pressures give the highest, which is what
 * the supply must reach; measured power outranks current with voltage and power factor.
 * @throws TankwardError `needs-pump-pressure` where no pump pressure is logged
 */
export function readSensors(trace: Trace, highestPa = Number.POSITIVE_INFINITY): Sensors {
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
  return {
    count: trace.timeS.length,
    pumpPressure,
    loadPressure: loads.length > 1 ? combine(loads, highest) : (loads[0] ?? null),
    pumpFlow: one('flow', 'pump-outlet'),
    systemFlow: one('flow', 'system-line'),
    returnFlow: one('flow', 'relief-return'),
    current,
    power:
      one('power') ?? (current && voltage && powerFactor ? powerFrom(current, voltage, powerFactor) : null),
    speed: one('speed'),
    cycleActive: one('signal', 'cycle-active'),
    idleSignal: one('signal', 'idle'),
  }
}
