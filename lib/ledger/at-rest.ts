import type { Step } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import type { Sensor, Sensors } from '@/lib/samples/sensors'
import { noiseIn } from './rest-noise'

/** Readings at rest that are never negative lie on one side of nil by their mean, unless it is this many times their scatter. */
const CLEAR_OF_NIL = 3

export type AtRest =
  | 'pumpPressure'
  | 'loadPressure'
  | 'pumpFlow'
  | 'systemFlow'
  | 'returnFlow'
  | 'caseDrain'
  | 'current'
  | 'power'
  | 'speed'

/**
 * Whether what a sensor shows at rest is its offset. A meter that cannot read below nil, or that cuts small readings off,
 * shows nil or the size of its noise there, whatever its offset is under load: such readings tell nothing.
 */
function showsOffset(sensor: Sensor, stopped: readonly Step[]): boolean {
  const values = readerOf(sensor.values)
  let count = 0
  let sum = 0
  let squares = 0
  for (const { from, to } of stopped) {
    for (let i = from; i < to; i++) {
      const reading = values.at(i)
      if (Number.isNaN(reading)) continue
      if (reading < 0) return true
      count++
      sum += reading
      squares += reading ** 2
    }
  }
  const mean = sum / count
  return mean > CLEAR_OF_NIL * Math.sqrt(Math.max(0, squares / count - mean ** 2))
}

/**
 * The sensors whose readings while the motor stands show their offset, with the standard deviation of one sample's noise
 * there, SI: what a mean leaves of it limits how well the offset shows.
 */
export function offsetsShownAtRest(steps: readonly Step[], sensors: Sensors): ReadonlyMap<AtRest, number> {
  const stopped = steps.filter(({ kind }) => kind === 'stopped')
  const names: readonly AtRest[] = [
    'pumpPressure',
    'loadPressure',
    'pumpFlow',
    'systemFlow',
    'returnFlow',
    'caseDrain',
    'current',
    'power',
    'speed',
  ]
  return new Map(
    names.flatMap((name) => {
      const sensor = sensors[name]
      if (sensor === null || !showsOffset(sensor, stopped)) return []
      return [[name, noiseIn(sensor, stopped)] as const]
    }),
  )
}
