import type { Step } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import type { Sensor } from '@/lib/samples/sensors'
import type { Ledger } from './ledger'
import { at, LIMIT_TO_SD } from './parameters'

/** Flow into the system while all should be shut. */
export interface HoldLeakage {
  readonly flowM3S: number
  /** What the meters may differ by, 1 sd. */
  readonly sdM3S: number
  readonly pressurePa: number
  /** Hydraulic energy that flowed away in the log, J. */
  readonly energyJ: number
  readonly steps: readonly Step[]
  readonly flowOf: (step: Step) => number
}

/** A meter at rest shows its zero to this share of its limit. */
const REST_SHARE = 0.1
/** A reading at rest beyond this many times the limit is flow and no zero. */
const ZERO_LIMITS = 1.5
const LEAST_HOLD_S = 2
/** Flow settles within this time after a step begins (common practice, no source). */
const SETTLING_S = 0.5

interface Zero {
  readonly offset: number
  readonly sd: number
}

/**
 * Zero of a flow meter from where surely nothing flows: the motor at rest, and for the system line the vented
 * idle. The dead-headed stretches are left out, for what flows there is the question.
 */
function zeroOf(sensor: Sensor, ledger: Ledger, isSystemLine: boolean): Zero {
  const vented = isSystemLine && ledger.machine.unloading.kind === 'vented-relief'
  const values = readerOf(sensor.values)
  let sum = 0
  let count = 0
  for (const { kind, from, to } of ledger.segmentation.steps) {
    if (kind !== 'stopped' && !(vented && kind === 'idle-unloaded')) continue
    for (let i = from; i < to; i++) {
      const value = values.at(i)
      if (!(Math.abs(value) < ZERO_LIMITS * sensor.limit)) continue
      sum += value
      count += 1
    }
  }
  const sd = sensor.limit * LIMIT_TO_SD
  return count * ledger.trace.sampleIntervalS >= LEAST_HOLD_S
    ? { offset: sum / count, sd: REST_SHARE * sd }
    : { offset: 0, sd }
}

/**
 * Flow that goes into the system in holds or in dead-headed idles: past seals and valve spools, for no actuator
 * moves. Null without a meter that can see it, or without such stretches.
 */
export function holdLeakage(ledger: Ledger, kind: 'work-holding' | 'idle-loaded'): HoldLeakage | null {
  const { sensors, segmentation, trace, values } = ledger
  const { systemFlow, pumpFlow, returnFlow } = sensors
  const meters: readonly (readonly [Sensor, number])[] | null = systemFlow
    ? [[systemFlow, 1]]
    : pumpFlow && returnFlow
      ? [
          [pumpFlow, 1],
          [returnFlow, -1],
        ]
      : null
  if (!meters) return null
  const zeros = meters.map(([sensor]) => zeroOf(sensor, ledger, sensor === systemFlow))
  const margin = Math.ceil(SETTLING_S / trace.sampleIntervalS)
  const read = meters.map(([{ values: readings }, sign], k) => ({
    readings: readerOf(readings),
    sign,
    offset: zeros[k].offset,
  }))
  const known = new Map<Step, number>()
  // Asked for several times a step, each of which is many samples.
  const flowOf = (step: Step) => {
    const before = known.get(step)
    if (before !== undefined) return before
    const { from, to } = step
    let sum = 0
    for (let i = from + margin; i < to - 1; i++) {
      for (const { readings, sign, offset } of read) sum += sign * (readings.at(i) - offset)
    }
    const flow = sum / (to - 1 - from - margin)
    known.set(step, flow)
    return flow
  }
  const steps = segmentation.steps.filter(
    (step) =>
      step.kind === kind &&
      step.to - 1 - step.from > margin &&
      !Number.isNaN(flowOf(step)) &&
      !Number.isNaN(step.means.pumpPressurePa),
  )
  const seconds = steps.reduce((sum, { durationS }) => sum + durationS, 0)
  if (seconds < LEAST_HOLD_S) return null
  const offsetPa = values[at('pumpPressureOffset')]
  const mean = (of: (step: Step) => number) =>
    steps.reduce((sum, step) => sum + step.durationS * of(step), 0) / seconds
  const pressureOf = ({ means }: Step) => means.pumpPressurePa - offsetPa
  return {
    flowM3S: mean(flowOf),
    sdM3S: Math.hypot(...zeros.map(({ sd }) => sd)),
    pressurePa: mean(pressureOf),
    energyJ: seconds * mean((step) => flowOf(step) * pressureOf(step)),
    steps,
    flowOf,
  }
}
