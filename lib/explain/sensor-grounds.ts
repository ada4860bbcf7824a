import type { SensorUse } from '@/lib/contract/explanation'
import type { Ledger } from '@/lib/ledger/ledger'
import { at, PARAMETERS, type Parameter } from '@/lib/ledger/parameters'
import { COVERAGE } from '@/lib/ledger/propagate'
import { type ChannelSamples, readerOf, type Samples, sumOf } from '@/lib/samples/samples'
import type { Sensor, Sensors } from '@/lib/samples/sensors'
import type { Channel } from '@/lib/samples/trace'
import { S_PER_HOUR, siOf } from '@/lib/units'

/** A sensor that the account reads, by what it means there. */
export interface SensorGround extends SensorUse {
  readonly role: SensorRole
  /** The parameter that is its offset, or null where its offset plays no part. */
  readonly offsetOf: Parameter | null
}
/** What a sensor means to the account. */
export type SensorRole = {
  [Key in keyof Sensors]: Sensors[Key] extends Sensor | null ? Key : never
}[keyof Sensors]

const isSensor = (value: unknown): value is Sensor =>
  typeof value === 'object' && value !== null && 'column' in value && 'limit' in value

/** The channel of a sensor; of one that several channels make, the first. */
const channelOf = (sensor: Sensor, channels: readonly Channel[]) =>
  channels.find(({ column }) => column === sensor.column) ??
  channels.find(({ column }) => sensor.column.startsWith(`${column}, `))

/**
 * How many samples hold a reading, and how long they hold.
 * @param loggedS how long all samples hold
 */
function coverOf(
  values: ChannelSamples,
  hold: Samples,
  loggedS: number,
): { samples: number; seconds: number } {
  const [readings, holdS] = [readerOf(values), readerOf(hold)]
  const whole = readings.firstMissing()
  if (whole === readings.length) return { samples: whole, seconds: loggedS }
  let samples = 0
  let seconds = 0
  for (let i = 0; i < readings.length; i++) {
    if (Number.isNaN(readings.at(i))) continue
    samples++
    seconds += holdS.at(i)
  }
  return { samples, seconds }
}

/** Every fitted sensor with what it covers, how sure it is, and the offset found. */
export function sensorGrounds({ sensors, trace, values, covariance }: Ledger): SensorGround[] {
  const loggedS = sumOf(trace.holdS)
  return (Object.entries(sensors) as [SensorRole, unknown][]).flatMap(([role, sensor]): SensorGround[] => {
    if (!isSensor(sensor)) return []
    const channel = channelOf(sensor, trace.channels)
    if (!channel) return []
    const isDerived = channel.column !== sensor.column && role === 'power'
    const unit = isDerived ? 'kW' : channel.unit
    const { factor } = siOf(unit)
    const name = PARAMETERS.find((parameter) => parameter === `${role}Offset`) ?? null
    const { samples, seconds } = coverOf(sensor.values, trace.holdS, loggedS)
    return [
      {
        role,
        column: sensor.column,
        quantity: isDerived ? 'power' : channel.quantity,
        location: channel.location,
        unit,
        samples,
        hours: seconds / S_PER_HOUR,
        limit: sensor.limit / factor,
        declared: channel.accuracy !== null,
        offsetOf: name,
        offset: name ? values[at(name)] / factor : 0,
        limitAfter: name ? (COVERAGE * Math.sqrt(covariance.get(at(name), at(name)))) / factor : 0,
      },
    ]
  })
}
