import { hasFurtherSets, motorsOf, withMotors } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import { machineModel } from '@/lib/machine/machine-model'
import { motorModel } from '@/lib/machine/motor'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { inFull, readerOf } from '@/lib/samples/samples'
import type { Sensors } from '@/lib/samples/sensors'
import type { Trace } from '@/lib/samples/trace'

/** Below this share of the default a current is a stopped motor's. */
const RUNNING_SHARE = 0.5
/** The lowest running current is read a little above the extreme, which noise makes. */
const LOW_QUANTILE = 0.02

/**
 * The machine with its default no-load current held at or below the lowest running current of the log: a
 * turning motor never draws less. Unchanged where the plate states it or no current is logged.
 */
export function withLowestCurrent(machine: Machine, sensors: Sensors, trace: Pick<Trace, 'holdS'>): Machine {
  const isKnown = motorsOf(machine).every(({ plate }) => plate.noLoadCurrentA)
  if (isKnown || !sensors.current) return machine
  const defaultA = machineModel(machine).motor.noLoadCurrentA
  const currents = inFull(sensors.current.values)
  const holdS = readerOf(trace.holdS)
  const weights = currents.map((amps, i) => (amps > RUNNING_SHARE * defaultA ? holdS.at(i) : 0))
  const lowestA = weightedQuantile(currents, weights, LOW_QUANTILE)
  if (!(lowestA < defaultA)) return machine
  if (!hasFurtherSets(machine)) return { ...machine, motor: { ...machine.motor, noLoadCurrentA: lowestA } }
  const share = lowestA / defaultA
  return withMotors(machine, (plate) =>
    plate.noLoadCurrentA ? plate : { ...plate, noLoadCurrentA: share * motorModel(plate).noLoadCurrentA },
  )
}
