import { type ChannelSamples, type CodedSamples, MISSING_CODE, readerOf } from '@/lib/samples/samples'
import { SHORTEST_RUN } from './stuck-sensor'

/** What one look at a column's values tells, so that next to all columns need no other. */
export interface ColumnScan {
  /** Values that are none. */
  readonly missing: number
  /** Greatest size of a value. */
  readonly largest: number
  /** True where one value other than nil is repeated for as long as a stuck sensor's. */
  readonly hasLongRun: boolean
}

export function scanColumn(samples: ChannelSamples): ColumnScan {
  return samples instanceof Float64Array ? scanValues(samples) : scanCodes(samples)
}

/** The same of readings that are held by distinct ones. */
function scanCodes(samples: CodedSamples): ColumnScan {
  const { codes } = samples
  let missing = 0
  let hasLongRun = false
  let from = 0
  for (let i = 1; i <= codes.length; i++) {
    const previous = codes[i - 1]
    if (previous === MISSING_CODE) missing++
    if (i < codes.length && codes[i] === previous && previous !== MISSING_CODE) continue
    if (i - from >= SHORTEST_RUN && samples.table[previous] !== 0) hasLongRun = true
    from = i
  }
  let largest = 0
  for (const value of readerOf(samples).distinct()) if (Math.abs(value) > largest) largest = Math.abs(value)
  return { missing, largest, hasLongRun }
}

function scanValues(values: Float64Array): ColumnScan {
  let missing = 0
  let largest = 0
  let hasLongRun = false
  let from = 0
  for (let i = 0; i < values.length; i++) {
    const value = values[i]
    // Read again, not carried along: a loop that is compiled while it runs makes an object of each number it carries.
    if (i > 0 && value === values[i - 1]) continue
    if (i - from >= SHORTEST_RUN && values[from] !== 0) hasLongRun = true
    from = i
    if (Math.abs(value) > largest) largest = Math.abs(value)
    else if (Number.isNaN(value)) missing++
  }
  return {
    missing,
    largest,
    hasLongRun: hasLongRun || (values.length - from >= SHORTEST_RUN && values[from] !== 0),
  }
}
