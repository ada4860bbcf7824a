import type { MachineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import { readerOf, type Samples } from '@/lib/samples/samples'
import type { Sensors } from '@/lib/samples/sensors'
import { ACCOUNT_KEYS, type AccountSeries } from './account-series'
import { BLOCK_SAMPLES, columnsOf } from './columns'
import { kindAtPressure, type Readings } from './operating-point'
import type { ParameterValues } from './parameters'
import { corrected, offsetsOf } from './readings'
import { type Run, runColumns } from './run-columns'
import { isSteady, loadShares, stepFrame } from './step-frame'

/** The account of a recording, worked out for whichever samples are asked for: it is never held as a whole. */
export interface Account {
  readonly steps: readonly Step[]
  /** Energies of the steps in J, one step after the other, each in the order of ACCOUNT_KEYS. */
  readonly energiesJ: Float64Array
  /** Fills in the samples [from, to), beginning at index 0 of every array. Every sample's parts add up to its input. */
  fill(from: number, to: number, into: AccountSeries): void
}

/** Index of the step that holds a sample: steps follow each other without a hole. */
function stepAt(steps: readonly Step[], sample: number): number {
  let low = 0
  let high = steps.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (steps[middle].from <= sample) low = middle
    else high = middle - 1
  }
  return low
}

export function accountOf(
  steps: readonly Step[],
  sensors: Sensors,
  model: MachineModel,
  curve: ReliefCurve,
  values: ParameterValues,
  currentLimitA: number,
  holdS: Samples,
): Account {
  const shares = loadShares(steps, values)
  const columns = columnsOf(sensors, values)
  const { pumpPressurePa } = columns.of
  const runs = runColumns(columns, model, curve)
  const read = offsetsOf(values)

  /** Takes in the samples [from, to) of a step from place `begin` on and hands them out run by run of one kind. */
  const eachRun = (
    step: Step,
    from: number,
    to: number,
    begin: number,
    visit: (run: Run, read: Readings) => void,
  ) => {
    const { kind, means } = step
    corrected(means, values, read)
    const frame = stepFrame({ kind, isSteady: isSteady(step) }, read, shares, model, curve, currentLimitA)
    columns.gather(from, to, begin, read)
    const end = begin + to - from
    for (let first = begin; first < end; ) {
      const here = kindAtPressure(kind, pumpPressurePa[first], model, curve)
      let last = kind === 'idle-unloaded' ? first + 1 : end
      while (last < end && kindAtPressure(kind, pumpPressurePa[last], model, curve) === here) last++
      const reliefPa = here === kind && kind !== 'starting' ? frame.reliefPa : null
      visit({ kind: here, begin: first, end: last, frame, reliefPa }, read)
      first = last
    }
  }

  const holds = readerOf(holdS)
  const energiesJ = new Float64Array(steps.length * ACCOUNT_KEYS.length)
  steps.forEach((step, k) => {
    for (let from = step.from; from < step.to; from += BLOCK_SAMPLES) {
      eachRun(step, from, Math.min(from + BLOCK_SAMPLES, step.to), 0, (run, read) =>
        runs.addEnergies(run, read, holds, from, energiesJ, k * ACCOUNT_KEYS.length),
      )
    }
  })
  const fillBlock = (from: number, to: number, into: AccountSeries) => {
    for (let k = stepAt(steps, from); k < steps.length && steps[k].from < to; k++) {
      const first = Math.max(from, steps[k].from)
      eachRun(steps[k], first, Math.min(to, steps[k].to), first - from, (run, read) =>
        runs.fill(run, read, into),
      )
    }
  }
  const fill = (from: number, to: number, into: AccountSeries) => {
    for (let first = from; first < to; first += BLOCK_SAMPLES) {
      const last = Math.min(first + BLOCK_SAMPLES, to)
      const part = (key: keyof AccountSeries) => into[key].subarray(first - from, last - from)
      fillBlock(first, last, Object.fromEntries(ACCOUNT_KEYS.map((key) => [key, part(key)])) as typeof into)
    }
  }
  return { steps, energiesJ, fill }
}
