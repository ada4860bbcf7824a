/** Numbers by which loggers say "no value", among them the ends of a 16-bit count with its decimals (common practice, no source). */
const MARKS: ReadonlySet<number> = new Set([
  9999, -9999, 9999.9, -9999.9, 99999, -99999, 999999, -999, 999.9, -999.9, 32767, -32767, -32768, 32768,
  65535, 3276.7, -3276.7, -3276.8, 327.67, -327.68, 6553.5, 655.35,
])
/** Most readings are smaller than any mark: they need no look-up. */
export const LEAST_MARK = Math.min(...Array.from(MARKS, Math.abs))
/** No sensor reads this much in any unit: the largest numbers of a format, written for "no value". */
const BEYOND_ALL = 1e30

const isMark = (value: number): boolean => {
  const size = Math.abs(value)
  return size >= LEAST_MARK && (size > BEYOND_ALL || MARKS.has(value))
}
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
  let first = 0
  while (first < values.length && !isMark(values[first])) first++
  if (first === values.length) return null
  const counts = new Map<number, number>()
  let highest = 0
  let others = 0
  for (const value of values) {
    if (isMark(value)) counts.set(value, (counts.get(value) ?? 0) + 1)
    else if (!Number.isNaN(value)) {
      others++
      if (Math.abs(value) > highest) highest = Math.abs(value)
    }
  }
  const bad = new Set<number>()
  for (const [mark, count] of counts) {
    const far = Math.abs(mark) > highest * IMPLAUSIBLE
    const near = Math.abs(mark) > highest * 1.05
    if (others === 0 || Math.abs(mark) > BEYOND_ALL || far || (near && count >= REPEATED)) bad.add(mark)
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
