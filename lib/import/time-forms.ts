import type { CellKind } from './cell-kind'
import { newStamp, readStamp } from './stamp'

/** A time of day that its cell alone does not tell from a date or a number: `06.15.30`, `061530`. */
export type TimeForm = 'dotted' | 'compact'

const DOTTED = /^([01]?\d|2[0-4])\.([0-5]\d)\.([0-5]\d)(?:[.,]\d{1,9})?$/
const COMPACT = /^(?:[01]?\d|2[0-4])[0-5]\d[0-5]\d(?:[.,]\d{1,9})?$/
const COMPACT_STAMP =
  /^(?:19|20)\d{2}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])[0-2]\d[0-5]\d[0-5]\d(?:\d{3}|[.,]\d{1,9})?$/
/** The last two digits of a date hardly change within a log; seconds do. */
const MOST_YEARS = 3
const SERIAL_DAY = /^[3-7]\d{4}$/
const DAY_SHARE = /^(?:0?[.,]\d+|0|\d(?:[.,]\d+)?e-\d+)$/i

const stamp = newStamp()

function all(cells: readonly string[], test: (cell: string) => boolean): boolean {
  const filled = cells.filter((cell) => cell !== '')
  return filled.length > 0 && filled.every(test)
}

/** True for a column of `06.15.30`: some cells are no date, or the last parts are too many for years. */
export function isDottedTime(cells: readonly string[]): boolean {
  if (!all(cells, (cell) => DOTTED.test(cell))) return false
  if (cells.some((cell) => !readStamp(cell, stamp) || stamp.date === 'none')) return true
  return new Set(cells.map((cell) => DOTTED.exec(cell)?.[3])).size > MOST_YEARS
}

/** True for a column of `061530`, leading zeros lost or not. */
export function isCompactTime(cells: readonly string[]): boolean {
  return all(cells, (cell) => COMPACT.test(cell.padStart(6, '0')))
}

/** True for a column of `20260302061530`: a number to look at, a date and a time to mean. */
export function isCompactStamp(cells: readonly string[]): boolean {
  return all(cells, (cell) => COMPACT_STAMP.test(cell))
}

/** True for dates that carry midnight, as an export of a date alone writes them. */
export function isMidnightOnly(cells: readonly string[]): boolean {
  return all(cells, (cell) => readStamp(cell, stamp) && stamp.date !== 'none' && stamp.timeMs === 0)
}

/** Columns of a spreadsheet's day number and of the share of the day beside it, or null. */
export function serialParts(
  columns: readonly (readonly string[])[],
  kinds: readonly CellKind[],
  named: readonly boolean[],
): { day: number; share: number } | null {
  const find = (form: RegExp): number =>
    kinds.findIndex((kind, c) => kind === 'number' && named[c] && all(columns[c], (cell) => form.test(cell)))
  const day = find(SERIAL_DAY)
  const share = find(DAY_SHARE)
  return day < 0 || share < 0 ? null : { day, share }
}
