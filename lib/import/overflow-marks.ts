/** Numbers by which loggers say "no value" (common practice, no source). */
const MARKS = [9999, -9999, 32767, -32768, 32768, 65535, 99999, -99999, 999999, -999, 9999.9, 999.9] as const
const REPEATED = 3
/** A mark this far outside the other values cannot be one of them. */
const IMPLAUSIBLE = 1.5

/**
 * Turns overflow numbers into missing values, in place, where they are implausible beside the
 * channel's other values, or repeated while nothing else comes near them.
 * @returns rows changed, the first of them and its number; null where there is none
 */
export function dropOverflowMarks(
  values: Float64Array,
): { count: number; firstRow: number; mark: number } | null {
  let suspects = false
  for (const value of values) {
    if (MARKS.includes(value as (typeof MARKS)[number])) {
      suspects = true
      break
    }
  }
  if (!suspects) return null
  const counts = new Map<number, number>()
  let highest = 0
  let others = 0
  for (const value of values) {
    if (MARKS.includes(value as (typeof MARKS)[number])) counts.set(value, (counts.get(value) ?? 0) + 1)
    else if (!Number.isNaN(value)) {
      others++
      if (Math.abs(value) > highest) highest = Math.abs(value)
    }
  }
  const bad = new Set<number>()
  for (const [mark, count] of counts) {
    const far = Math.abs(mark) > highest * IMPLAUSIBLE
    const near = Math.abs(mark) > highest * 1.05
    if (others === 0 || far || (near && count >= REPEATED)) bad.add(mark)
  }
  if (bad.size === 0) return null
  let count = 0
  let firstRow = -1
  let mark = 0
  for (let i = 0; i < values.length; i++) {
    if (!bad.has(values[i])) continue
    if (firstRow < 0) {
      firstRow = i
      mark = values[i]
    }
    values[i] = Number.NaN
    count++
  }
  return { count, firstRow, mark }
}
