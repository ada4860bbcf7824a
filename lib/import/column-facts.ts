import { unitInCell } from './cell-kind'
import type { Table } from './table'
import { readUnit, type WrittenUnit } from './unit-words'

export function columnIndexes(table: Table): number[] {
  return table.headers.map((_, index) => index)
}

export function sampleOf(table: Table, index: number): string[] {
  return table.sample.map((row) => row[index] ?? '')
}

/** The unit text that stands behind most numbers of a column, or null. */
export function cellUnitOf(cells: readonly string[]): string | null {
  const filled = cells.filter((cell) => /\d/.test(cell))
  const counts = new Map<string, number>()
  for (const cell of filled) {
    const unit = unitInCell(cell)
    if (unit !== null) counts.set(unit, (counts.get(unit) ?? 0) + 1)
  }
  for (const [unit, count] of counts) if (count > filled.length / 2) return unit
  return null
}

/** The unit of a column: from its header, else from behind its numbers, else it is the column's name. */
export function headerUnit(table: Table, index: number): WrittenUnit | null {
  const { unitText, name } = table.headers[index]
  // A column may be named by its unit alone; one letter is more often a name.
  const named = name.length > 1 && readUnit(name) !== null ? name : null
  const text = unitText ?? cellUnitOf(sampleOf(table, index)) ?? named
  return text === null ? null : readUnit(text)
}
