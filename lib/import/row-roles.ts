import type { TimePlan } from './time-column'

/** What a cell is to its row, where it is not the place of its number (0 and up). */
export const UNUSED = -1
export const STAMP = -2
export const DATE = -3
export const MILLISECONDS = -4

/**
 * Each cell's part in a row of `width` cells; null where a column has two, or lies beyond the row.
 * @param columns column of each number that is wanted; that of a numeric time comes after them
 */
export function rolesOf(time: TimePlan, columns: readonly number[], width: number): Int32Array | null {
  const roles = new Int32Array(width).fill(UNUSED)
  const uses: (readonly [number | null, number])[] = columns.map((column, slot) => [column, slot])
  if (time.kind === 'numeric') uses.push([time.column, columns.length], [time.dayColumn, UNUSED])
  if (time.kind === 'stamp') {
    uses.push([time.column, STAMP], [time.dateColumn, DATE], [time.msColumn, MILLISECONDS])
  }
  const taken = new Set<number>()
  for (const [column, role] of uses) {
    if (column === null) continue
    if (column >= width || taken.has(column)) return null
    taken.add(column)
    roles[column] = role
  }
  return roles
}
