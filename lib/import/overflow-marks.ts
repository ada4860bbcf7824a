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
/** Readings that leap to one and the same number and back, this many times, leap to a mark. */
const LEAPS = 3
/** A leap is this many times further than the readings around it are apart … */
const FAR_LEAP = 5
/** … and this share of all that the channel shows. */
const LEAP_SHARE = 0.2

/** A mark this far outside the other values cannot be one of them. */
const IMPLAUSIBLE = 1.5

/** True where most readings of this number are leaps to it and back. */
function leapsTo(values: Float64Array, mark: number, span: number): boolean {
  let runs = 0
  let leaps = 0
  for (let i = 0; i < values.length; i++) {
    if (values[i] !== mark) continue
    const before = values[i - 1]
    while (values[i + 1] === mark) i++
    const after = values[i + 1]
    const height = Math.min(Math.abs(mark - before), Math.abs(mark - after))
    runs++
    if (height > LEAP_SHARE * span && height > FAR_LEAP * Math.abs(after - before)) leaps++
  }
  return leaps >= LEAPS && leaps > runs / 2
}

/**
 * Turns overflow numbers into missing values, in place, where they are implausible beside the
 * channel's other values, or repeated while nothing else comes near them or as leaps to them and back.
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
  let top = Number.NEGATIVE_INFINITY
  let lowest = Number.POSITIVE_INFINITY
  let others = 0
  for (const value of values) {
    if (isMark(value)) counts.set(value, (counts.get(value) ?? 0) + 1)
    else if (!Number.isNaN(value)) {
      others++
      if (Math.abs(value) > highest) highest = Math.abs(value)
      if (value > top) top = value
      if (value < lowest) lowest = value
    }
  }
  const bad = new Set<number>()
  for (const [mark, count] of counts) {
    const far = Math.abs(mark) > highest * IMPLAUSIBLE
    const near = Math.abs(mark) > highest * 1.05
    const below = mark < 0 && mark < lowest - (top - lowest) / 2
    const isImplausible = others === 0 || Math.abs(mark) > BEYOND_ALL || far || below
    const isRepeated = count >= REPEATED && (near || leapsTo(values, mark, top - lowest))
    if (isImplausible || isRepeated) bad.add(mark)
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
