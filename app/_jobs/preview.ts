import { readable, toDigits } from '@/lib/numeric/readable'
import { asCells, type Cells, emptyCells } from '@/lib/samples/envelope'
import { addPiece } from '@/lib/samples/envelope-merge'
import { planWindow } from '@/lib/samples/envelope-plan'
import { inFull } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'
import { fromSi, type Unit } from '@/lib/units'
import type { PreviewChannel, Understood } from './task'

/** Points of a preview: a picture the width of a page. */
const PREVIEW_POINTS = 300
const MEAN_DIGITS = 9

/** Values as they are shown, null for no value. A loop: `Array.from` asks an iterator for each of tens of thousands. */
function column(values: Float64Array, show: (value: number) => number): (number | null)[] {
  const shownValues = new Array<number | null>(values.length)
  for (let i = 0; i < values.length; i++) shownValues[i] = Number.isNaN(values[i]) ? null : show(values[i])
  return shownValues
}

/** SI values in `unit`, null for no value. */
export function shown(values: Float64Array, unit: Unit): (number | null)[] {
  return column(values, (value) => readable(fromSi(value, unit)))
}

/** The same for means: they are kept to single precision, of which this is a little more. */
export function shownMean(values: Float64Array, unit: Unit): (number | null)[] {
  return column(values, (value) => toDigits(fromSi(value, unit), MEAN_DIGITS))
}

/** A whole recording at a glance. */
export function previewOf(trace: Trace): Understood['preview'] {
  const count = trace.timeS.length
  // Everything is in memory here, so the samples themselves are looked at: a plan for a recording of no levels.
  const plan = planWindow(count, 0, count, PREVIEW_POINTS)
  const whole = { level: 0, fromCell: 0, endCell: count }
  const glance = (values: Float64Array): Cells => {
    const buckets = emptyCells(plan.bucketCount)
    addPiece(buckets, plan, whole, asCells(values))
    return buckets
  }
  const channels = trace.channels.map(({ column, unit, values }): PreviewChannel => {
    const { min, max, mean } = glance(inFull(values))
    return { column, unit, min: shown(min, unit), max: shown(max, unit), mean: shownMean(mean, unit) }
  })
  return { startS: Array.from(glance(inFull(trace.timeS)).min), channels }
}
