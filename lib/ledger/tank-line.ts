import type { PhaseKind, Problem } from '@/lib/contract/result'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { type Step, sumsOf } from '@/lib/phases/stretch'
import type { Samples } from '@/lib/samples/samples'
import type { Sensor } from '@/lib/samples/sensors'
import { PA_PER_BAR } from '@/lib/units'
import type { Ledger } from './ledger'

/** The back pressure in the line to tank, where a sensor reads it. */
export interface TankLine {
  readonly column: string
  /** Reading with the motor stopped, taken off as the sensor's offset, Pa. */
  readonly offsetPa: number
  /** 95 % limit of what offset may be left, Pa. */
  readonly limitPa: number
  /** Mean over each step, offset taken off, Pa; NaN where the sensor was silent. */
  readonly meansPa: ReadonlyMap<Step, number>
  /** The median while the pump turns, which stands in for a silent step, Pa. */
  readonly usualPa: number
}

/** A reading at rest beyond this many limits is no offset. */
const OFFSET_LIMITS = 2
const LEAST_REST_S = 1
/** How well rest shows the offset, as a share of the limit: a little oil may stand above the sensor. */
const REST_SHARE = 0.2

const turns = (kind: PhaseKind) => kind !== 'stopped' && kind !== 'starting'

/** Reads the tank line step by step; null without a sensor, or where it says nothing while the pump turns. */
export function tankLine(steps: readonly Step[], sensor: Sensor | null, holdS: Samples): TankLine | null {
  if (!sensor) return null
  const sums = steps.map((step) => {
    const { valueS, seconds } = sumsOf(sensor.values, holdS, [step.from], step.to)
    return { step, valueS: valueS[0], seconds: seconds[0] }
  })
  const stopped = sums.filter(({ step, seconds }) => step.kind === 'stopped' && seconds > 0)
  const restS = stopped.reduce((sum, { seconds }) => sum + seconds, 0)
  const restPa = stopped.reduce((sum, { valueS }) => sum + valueS, 0) / restS
  const isOffset = restS >= LEAST_REST_S && Math.abs(restPa) < OFFSET_LIMITS * sensor.limit
  const offsetPa = isOffset ? restPa : 0
  const meansPa = new Map(
    sums.map(({ step, valueS, seconds }) => [step, seconds > 0 ? valueS / seconds - offsetPa : Number.NaN]),
  )
  const turning = sums.filter(({ step, seconds }) => turns(step.kind) && seconds > 0)
  if (turning.length === 0) return null
  const usualPa = weightedQuantile(
    turning.map(({ valueS, seconds }) => valueS / seconds - offsetPa),
    turning.map(({ seconds }) => seconds),
    0.5,
  )
  const limitPa = (isOffset ? REST_SHARE : 1) * sensor.limit
  return { column: sensor.column, offsetPa, limitPa, meansPa, usualPa }
}

/** Back pressure behind the relief in a step, Pa; nil without a sensor. */
export function backPressurePa(line: TankLine | null, step: Step): number {
  if (!line) return 0
  const meanPa = line.meansPa.get(step) ?? Number.NaN
  return Number.isNaN(meanPa) ? line.usualPa : meanPa
}

/**
 * A tank line whose pressure stands above this, for longer than this share of the time the pump turns, is more than
 * clean filter, cooler and pipe take; return filters open their by-pass near 3 bar (common practice, no source).
 */
const HIGH_PA = 5 * PA_PER_BAR
const LONG_SHARE = 0.2

/** A tank line that stands high for long: a clogged return filter, cold oil, a line too narrow. Counts are samples. */
export function tankLineProblems({
  tankLine: line,
  segmentation,
}: Pick<Ledger, 'tankLine' | 'segmentation'>): Problem[] {
  if (!line) return []
  const turning = segmentation.steps.filter(({ kind }) => turns(kind))
  const high = turning.filter((step) => (line.meansPa.get(step) ?? 0) - line.limitPa > HIGH_PA)
  const secondsOf = (steps: readonly Step[]) => steps.reduce((sum, { durationS }) => sum + durationS, 0)
  const seconds = secondsOf(high)
  if (!(seconds > LONG_SHARE * secondsOf(turning))) return []
  const meansPa = high.map((step) => line.meansPa.get(step) ?? 0)
  const weights = high.map(({ durationS }) => durationS)
  return [
    {
      code: 'tank-line-high',
      line: null,
      column: line.column,
      count: high.reduce((sum, { from, to }) => sum + to - from, 0),
      values: {
        medianBar: weightedQuantile(meansPa, weights, 0.5) / PA_PER_BAR,
        highestBar: meansPa.reduce((most, pa) => Math.max(most, pa)) / PA_PER_BAR,
        usualUpToBar: HIGH_PA / PA_PER_BAR,
        seconds,
        share: seconds / secondsOf(turning),
      },
    },
  ]
}
