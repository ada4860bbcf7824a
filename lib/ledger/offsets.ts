import type { Channel } from '@/lib/samples/trace'
import { siOf } from '@/lib/units'
import type { Ledger } from './ledger'
import { at, type Parameter } from './parameters'

/** Offsets below this share of a sensor's limit are noise. */
const NOTICEABLE_SHARE = 0.02

type Column = Pick<Channel, 'column' | 'unit'>

/** Of several load pressures each has its own: its distance from their common zero, and that zero's. */
function loadOffsets({ sensors, values }: Ledger, channels: readonly Column[]) {
  return sensors.loadZeros.flatMap(({ column, offsetPa, limitPa }) => {
    const offset = offsetPa + values[at('loadPressureOffset')]
    const channel = channels.find((one) => one.column === column)
    if (!channel || Math.abs(offset) < NOTICEABLE_SHARE * limitPa) return []
    return [{ column, offset: offset / siOf(channel.unit).factor }]
  })
}

/** The constant offsets taken off the sensors' readings, each in the unit of its channel. */
export function sensorOffsets(
  ledger: Ledger,
  channels: readonly Column[],
): { column: string; offset: number }[] {
  const { sensors, values } = ledger
  const pairs: [Parameter, { column: string; limit: number } | null][] = [
    ['pumpPressureOffset', sensors.pumpPressure],
    ['loadPressureOffset', sensors.loadPressure],
    ['pumpFlowOffset', sensors.pumpFlow],
    ['systemFlowOffset', sensors.systemFlow],
    ['returnFlowOffset', sensors.returnFlow],
    ['caseDrainOffset', sensors.caseDrain],
    ['currentOffset', sensors.current],
    ['powerOffset', sensors.power],
    ['speedOffset', sensors.speed],
  ]
  const found = pairs.flatMap(([name, sensor]) => {
    const offset = values[at(name)]
    if (name === 'loadPressureOffset' && sensors.loadZeros.length > 0) return loadOffsets(ledger, channels)
    const channel = channels.find(({ column }) => column === sensor?.column)
    if (!sensor || !channel || Math.abs(offset) < NOTICEABLE_SHARE * sensor.limit) return []
    return [{ column: channel.column, offset: offset / siOf(channel.unit).factor }]
  })
  const { tankLine } = ledger
  const channel = channels.find(({ column }) => column === tankLine?.column)
  const isNoticeable =
    Math.abs(tankLine?.offsetPa ?? 0) >= NOTICEABLE_SHARE * (sensors.tankPressure?.limit ?? Number.NaN)
  if (!tankLine || !channel || !isNoticeable) return found
  return [...found, { column: channel.column, offset: tankLine.offsetPa / siOf(channel.unit).factor }]
}
