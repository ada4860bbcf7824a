import { fittedMeans, meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
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

const NOTHING_READ = meansBy(() => Number.NaN)

/** The mean readings of one row. */
export function meansOf({ names, means }: Columns, row: number): StretchMeans {
  const read: { -readonly [Name in keyof StretchMeans]: number } = { ...NOTHING_READ }
  for (let i = 0; i < names.length; i++) read[names[i]] = means[i][row]
  return read
}
