import { fittedMeans, MEAN_NAMES, type Step, type StretchMeans } from '@/lib/phases/stretch'
import type { MeanColumns } from '@/lib/phases/stretch-columns'
import type { Sensors } from '@/lib/samples/sensors'

/** Mean readings of many stretches, a column for each sensor that is fitted: a row stands for a stretch. */
export interface Columns {
  readonly names: readonly (keyof StretchMeans)[]
  /** By name. */
  readonly means: readonly Float64Array[]
  readonly peakLoadPa: Float64Array
}

/** Columns for so many stretches, all nil. */
export const columnsFor = (names: Columns['names'], count: number): Columns => ({
  names,
  means: names.map(() => new Float64Array(count)),
  peakLoadPa: new Float64Array(count),
})

/** The readings of the steps of a recording. */
export function columnsOf(steps: readonly Step[], sensors: Sensors): Columns {
  const names = fittedMeans(sensors)
  const columns = columnsFor(names, steps.length)
  for (let k = 0; k < steps.length; k++) {
    const { means, peakLoadPa } = steps[k]
    for (let i = 0; i < names.length; i++) columns.means[i][k] = means[names[i]]
    columns.peakLoadPa[k] = peakLoadPa
  }
  return columns
}

/** More bits than unloading pumps have states. */
const STATE_BITS = 4

/** By row: which of the sensors are silent, a bit each, and the state of unloading pumps. */
export function silentIn({ names, means, peakLoadPa }: Columns): Int32Array {
  const silent = new Int32Array(peakLoadPa.length)
  for (let i = 0; i < names.length; i++) {
    const mean = means[i]
    if (names[i] === 'pumpState') {
      for (let k = 0; k < silent.length; k++) silent[k] = (silent[k] << STATE_BITS) | mean[k]
      continue
    }
    for (let k = 0; k < silent.length; k++) silent[k] = (silent[k] << 1) | (Number.isNaN(mean[k]) ? 1 : 0)
  }
  return silent
}

/** The same with a column for every reading, so that each row's can be read by name. */
export function meanColumnsOf({ names, means, peakLoadPa }: Columns): MeanColumns {
  const silent = new Float64Array(peakLoadPa.length).fill(Number.NaN)
  const columns = Object.fromEntries(MEAN_NAMES.map((name) => [name, silent])) as Record<
    keyof StretchMeans,
    Float64Array
  >
  for (let i = 0; i < names.length; i++) columns[names[i]] = means[i]
  return columns
}
