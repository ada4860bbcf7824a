import { cellKind } from './cell-kind'
import { isDataKind } from './column-kind'
import { DELIMITERS, type Delimiter } from './delimiter'
import { splitLine } from './parse-rows'

export const MOST_COLUMNS = 2000

export interface Shape {
  readonly delimiter: Delimiter
  readonly width: number
  readonly score: number
}

export function trimRow(cells: readonly string[]): string[] {
  const trimmed = cells.map((cell) => cell.trim())
  let length = trimmed.length
  while (length > 0 && trimmed[length - 1] === '') length--
  return trimmed.slice(0, length)
}

/** Share of a row's non-empty cells that are data; a unit or word is none. */
function dataShare(cells: readonly string[]): number {
  let data = 0
  let other = 0
  for (const cell of cells) {
    if (cell === '') continue
    const kind = cellKind(cell)
    if (isDataKind(kind)) data++
    else if (kind === 'text') other++
  }
  return data === 0 ? 0 : data / (data + other)
}

export function scoringLines(lines: readonly string[]): string[] {
  const filled = lines.filter((line) => line.trim() !== '')
  return filled.length <= 600 ? filled : [...filled.slice(0, 300), ...filled.slice(-300)]
}

/** So many times more rows than under tabs speak for blanks. */
const CLEARLY_MORE = 1.5

/** The delimiter under which most lines become rows of equal width, full of data. */
export function findShape(lines: readonly string[]): Shape | null {
  let best: Shape | null = null
  for (const delimiter of DELIMITERS) {
    const byWidth = new Map<number, number>()
    for (const line of lines) {
      const raw = splitLine(line, delimiter)
      if (raw.length < 2 || raw.length > MOST_COLUMNS) continue
      const share = dataShare(trimRow(raw))
      if (share >= 0.5) byWidth.set(raw.length, (byWidth.get(raw.length) ?? 0) + share ** 4)
    }
    for (const [width, score] of byWidth) {
      // Blanks part what tabs part, too: lines above the table do not speak for them.
      const more = delimiter === ' ' && best?.delimiter === '\t' ? CLEARLY_MORE : 1.02
      if (best === null || score > best.score * more) best = { delimiter, width, score }
    }
  }
  return best
}

/**
 * The trimmed rows of the table's width that are as full of data as the last ones: lines above the
 * table may have its separators too, and mix words among their numbers.
 */
export function dataRows(lines: readonly string[], shape: Shape): string[][] {
  const rows = lines
    .map((line) => splitLine(line, shape.delimiter))
    .filter((row) => row.length === shape.width)
    .map((row) => row.map((cell) => cell.trim()))
    .map((row) => ({ row, share: dataShare(row) }))
    .filter(({ share }) => share >= 0.5)
  const ending = rows
    .slice(-10)
    .map(({ share }) => share)
    .sort((a, b) => a - b)
  const least = (ending[ending.length >> 1] ?? 0) * 0.8
  return rows.filter(({ share }) => share >= least).map(({ row }) => row)
}

/** Rows that may differ in width before the width counts as varying. */
const MOST_DIFFERENT = 0.02
const FEWEST_ROWS = 10

/**
 * The number of cells that next to all rows have, or null where rows vary: a logger that leaves out
 * empty cells at the end of its rows.
 */
export function constantWidth(rows: readonly string[], delimiter: Delimiter): number | null {
  const widths = new Map<number, number>()
  let count = 0
  for (const row of rows) {
    if (row.trim() === '') continue
    const { length } = splitLine(row, delimiter)
    widths.set(length, (widths.get(length) ?? 0) + 1)
    count++
  }
  if (count < FEWEST_ROWS) return null
  for (const [width, rowsOf] of widths) {
    if (count - rowsOf <= Math.max(1, count * MOST_DIFFERENT)) return width
  }
  return null
}
