import { type CellKind, cellKind } from './cell-kind'
import { columnKind, isDataKind } from './column-kind'
import { splitLine } from './parse-rows'
import { dataRows, type Shape, scoringLines, trimRow } from './table-shape'

/** Lines below a first row of numbers among which the table's header may still come. */
const MOST_NUMBERS_ABOVE = 64
const STAMPS: readonly CellKind[] = ['datetime', 'date', 'time']

/** True where a row's cells fit the columns' kinds: none holds a word where numbers or times stand. */
function fits(cells: readonly string[], kinds: readonly CellKind[]): boolean {
  let data = 0
  let wrong = 0
  for (let i = 0; i < cells.length; i++) {
    if (cells[i] === '') continue
    const kind = cellKind(cells[i])
    if (isDataKind(kind)) data++
    else if (kind === 'text' && isDataKind(kinds[i] ?? 'text')) wrong++
  }
  return data > 0 && wrong <= data * 0.34
}

/** A row of another width than most (a remark at its end): every cell of the common columns is of its kind. */
function fitsExactly(cells: readonly string[], kinds: readonly CellKind[]): boolean {
  const common = Math.min(cells.length, kinds.length)
  let data = 0
  for (let i = 0; i < common; i++) {
    const kind = cellKind(cells[i])
    if (kind === 'missing') continue
    if (kind !== kinds[i]) return false
    if (isDataKind(kind)) data++
  }
  return data >= 2 && data > kinds.length / 2
}

/** True where all filled cells are words, as in a line of column names; `No` for a number reads as a switch's state. */
function isHeaderLike(cells: readonly string[], width: number): boolean {
  const filled = cells.filter((cell) => cell !== '')
  const texts = filled.filter((cell) => cellKind(cell) === 'text').length
  const words = texts + filled.filter((cell) => cellKind(cell) === 'boolean').length
  return texts >= Math.max(2, width * 0.5) && words === filled.length
}

/**
 * Index of the first row of the table, or -1. Lines of numbers above the header (calibration points,
 * channel numbers) are none of its rows: their cells are of other kinds than the table's columns.
 */
export function findFirstData(lines: readonly string[], shape: Shape): number {
  const rows = dataRows(scoringLines(lines), shape)
  const kinds = Array.from({ length: shape.width }, (_, c) => columnKind(rows.map((row) => row[c])))
  const cellsOf = (index: number): string[] => splitLine(lines[index], shape.delimiter)
  const isRow = (index: number): boolean => {
    const row = cellsOf(index)
    return row.length === shape.width ? fits(trimRow(row), kinds) : fitsExactly(trimRow(row), kinds)
  }
  const first = firstOf(lines, 0, isRow)
  if (first < 0) return first
  const cells = trimRow(cellsOf(first))
  const stamped = kinds.findIndex((kind) => STAMPS.includes(kind))
  if (stamped >= 0 && cellKind(cells[stamped] ?? '') === kinds[stamped]) return first
  const above = new Set(lines.slice(0, first).map((line) => line.trim()))
  const until = Math.min(lines.length, first + MOST_NUMBERS_ABOVE)
  for (let i = first + 1; i < until; i++) {
    if (above.has(lines[i].trim()) || !isHeaderLike(trimRow(cellsOf(i)), shape.width)) continue
    const below = firstOf(lines, i + 1, isRow)
    return below < 0 ? first : below
  }
  return first
}

/** The first line from `from` on that is a row and has rows after it. */
function firstOf(lines: readonly string[], from: number, isRow: (index: number) => boolean): number {
  for (let i = from; i < lines.length; i++) {
    if (!isRow(i)) continue
    let seen = 0
    let good = 0
    for (let k = i + 1; k < lines.length && seen < 6; k++) {
      if (lines[k].trim() === '') continue
      seen++
      if (isRow(k)) good++
    }
    if (seen === 0 || good >= seen * 0.5) return i
  }
  return -1
}
