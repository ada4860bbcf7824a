import { cellKind } from './cell-kind'
import { DELIMITERS, type Delimiter } from './delimiter'
import { importError } from './fail'
import { findFirstData } from './first-data'
import { type HeaderCell, readHeaderCell } from './header-cell'
import { splitLine } from './parse-rows'
import { normaliseName, quantityOfName } from './quantity-words'
import {
  constantWidth,
  dataRows,
  findShape,
  MOST_COLUMNS,
  type Shape,
  scoringLines,
  trimRow,
} from './table-shape'
import { TIME_WORDS } from './time-words'
import { isUnitText } from './unit-words'

const SAMPLE_ROWS = 500
/** Lines over which quoted header cells may spread. */
const MOST_FOLDED = 12

/** Where the table lies in the file and how its lines split: decided from the head sample as a whole. */
export interface Table {
  readonly delimiter: Delimiter
  readonly preamble: readonly string[]
  /** Index of the header line, or null where there is none. */
  readonly headerIndex: number | null
  readonly firstDataIndex: number
  readonly headers: readonly HeaderCell[]
  /** Lines above the data, to know them again after a restart. */
  readonly headerLines: ReadonlySet<string>
  /** The line of names as it stands in the file, trimmed; null where there is none. */
  readonly headerText: string | null
  /** Cells to a row where next to all rows have as many, else null. */
  readonly constantWidth: number | null
  /** Data rows of the head sample, trimmed cells. */
  readonly sample: readonly (readonly string[])[]
}

/** The lines directly above the data that belong to the table: its names, its units. */
function headerBlock(lines: readonly string[], firstData: number, shape: Shape): number[] {
  const block: number[] = []
  for (let i = firstData - 1; i >= 0 && block.length < 4; i--) {
    if (lines[i].trim() === '') {
      if (block.length > 0) break
      continue
    }
    const cells = trimRow(splitLine(lines[i], shape.delimiter))
    const least = shape.delimiter === ' ' ? 2 : Math.max(2, Math.ceil(shape.width * 0.5))
    const filled = cells.filter((cell) => cell !== '').length
    // Times, counts and empty columns have no unit: a row of units may be short.
    if (filled < least && !(filled >= 2 && unitShare(cells) === 1)) break
    if (!isRule(cells)) block.unshift(i)
  }
  return block
}

/** True for a line drawn below the names: `---|---|---`. */
function isRule(cells: readonly string[]): boolean {
  return cells.every((cell) => /^[-=:_+]*$/.test(cell))
}

/** A header cell quoted over several lines, folded into the line it began on. */
function foldQuoted(lines: readonly string[], firstData: number): readonly string[] {
  const odd = (line: string): boolean => line.split('"').length % 2 === 0
  const above = lines.slice(Math.max(0, firstData - MOST_FOLDED), firstData)
  const from = above.findIndex(odd)
  const to = above.findLastIndex(odd)
  if (from < 0 || from === to) return lines
  const folded = lines.slice(0, firstData)
  const start = firstData - above.length + from
  const end = firstData - above.length + to
  folded[start] = lines.slice(start, end + 1).join(' ')
  folded.fill('', start + 1, end + 1)
  return folded
}

/** True for a cell that names a time or something that a sensor reads. */
function isChannelName(cell: string): boolean {
  const { name } = readHeaderCell(cell)
  return TIME_WORDS.test(name) || quantityOfName(normaliseName(name)) !== null
}

function unitShare(cells: readonly string[]): number {
  const filled = cells.filter((cell) => cell !== '')
  return filled.length === 0 ? 0 : filled.filter(isUnitText).length / filled.length
}

/** Share of the names, the times' left out, that carry a unit. */
function unitShareOfNames(names: readonly string[]): number {
  const cells = names.map(readHeaderCell).filter(({ name }) => !TIME_WORDS.test(name))
  return cells.filter(({ unitText }) => unitText !== null).length / Math.max(1, cells.length)
}

function headerCells(line: string, shape: Shape): string[] {
  if (shape.delimiter !== ' ') return trimRow(splitLine(line, shape.delimiter))
  const single = splitLine(line, ' ')
  if (single.length === shape.width) return single
  const spaced = line.trim().split(/\s{2,}|\t/)
  return spaced.length === shape.width ? spaced : joinUnits(single)
}

/** `Pump [bar]` under a space delimiter: a bracket belongs to the word before it. */
function joinUnits(words: readonly string[]): string[] {
  const cells: string[] = []
  for (const word of words) {
    if (/^[[(]/.test(word) && cells.length > 0) cells.push(`${cells.pop()} ${word}`)
    else cells.push(word)
  }
  return cells
}

/** False for a line above rows without names that tells of something else: its cells are dates or numbers. */
function canName(cells: readonly string[], width: number): boolean {
  const kinds = cells.map(cellKind)
  if (kinds.some((kind) => kind === 'datetime' || kind === 'date' || kind === 'time')) return false
  const names = cells.filter((cell, i) => kinds[i] === 'text' && isChannelName(cell)).length
  return !kinds.includes('number') || (cells.length >= width ? names > 0 : names > 1)
}

/** Finds the table in the head sample's lines. @throws TankwardError where there is none */
export function findTable(lines: readonly string[], fileName: string): Table {
  const shape = findShape(scoringLines(lines))
  const firstData = shape === null ? -1 : findFirstData(lines, shape)
  if (shape === null || firstData < 0) throw noTable(lines, fileName)
  const folded = foldQuoted(lines, firstData)
  const block = headerBlock(folded, firstData, shape)
  for (const i of block) {
    const count = splitLine(folded[i], shape.delimiter).length
    if (count > MOST_COLUMNS) {
      throw importError('too-many-columns', { fileName, line: i + 1, count, limit: MOST_COLUMNS })
    }
  }
  const unitsAt = block.findLast(
    (i, at) =>
      (block.length > 1 || at > 0) && unitShare(trimRow(splitLine(folded[i], shape.delimiter))) >= 0.6,
  )
  const naming = block.filter((i) => i !== unitsAt && canName(headerCells(folded[i], shape), shape.width))
  const above = naming.filter((i) => unitsAt === undefined || i < unitsAt)
  const below = naming.filter((i) => unitsAt !== undefined && i > unitsAt)
  const usual = above.at(-1) ?? below.at(0) ?? null
  const namesIn = (i: number): number => headerCells(folded[i], shape).filter(isChannelName).length
  const headerIndex = [...above, ...below].reduce(
    (best, i) => (best === null || namesIn(i) > namesIn(best) ? i : best),
    usual,
  )
  // Names that bring their units need no row of them: such a row is none.
  const own = headerIndex === null ? 0 : unitShareOfNames(headerCells(folded[headerIndex], shape))
  const unitsIndex = unitsAt === undefined || own >= 0.5 ? null : unitsAt
  const body = lines.slice(firstData)
  const every = Math.max(1, Math.floor(body.length / (3 * SAMPLE_ROWS)))
  const looked = every === 1 ? body : body.filter((_, i) => i % every === 0)
  const sample = dataRows(looked, shape)
  const step = Math.max(1, Math.floor(sample.length / SAMPLE_ROWS))
  const thinned = sample.filter((_, i) => i % step === 0)
  return {
    delimiter: shape.delimiter,
    // A line such as `Start;2026-03-02` may stand right above the names.
    preamble: lines.slice(0, firstData).map((line, i) => (i === headerIndex || i === unitsIndex ? '' : line)),
    headerIndex,
    firstDataIndex: firstData,
    headers: headers(folded, headerIndex, unitsIndex, shape, thinned, fileName),
    headerLines: new Set(lines.slice(0, firstData).map((line) => line.trim())),
    headerText: headerIndex === null ? null : lines[headerIndex].trim(),
    constantWidth: constantWidth(looked, shape.delimiter),
    sample: thinned,
  }
}

/** Under a space delimiter an empty first unit leaves no trace: the units then belong to the last columns. */
function unitCells(line: string, shape: Shape): string[] {
  const cells = headerCells(line, shape)
  if (shape.delimiter !== ' ' || cells.length === shape.width) return cells
  return cells.length === shape.width - 1 ? ['', ...cells] : []
}

function headers(
  lines: readonly string[],
  headerIndex: number | null,
  unitsAt: number | null,
  shape: Shape,
  sample: readonly (readonly string[])[],
  fileName: string,
): HeaderCell[] {
  const used = sample.reduce((most, row) => Math.max(most, trimRow(row).length), 0)
  const names = headerIndex === null ? [] : headerCells(lines[headerIndex], shape)
  if (headerIndex !== null && names.length < used) {
    const values = { fileName, line: headerIndex + 1, headerCells: names.length, rowCells: used }
    throw importError('columns-differ-from-header', values)
  }
  const units = unitsAt === null ? [] : unitCells(lines[unitsAt], shape)
  return Array.from({ length: Math.max(names.length, used) }, (_, i) => {
    const name = names[i] === undefined || names[i] === '' ? `Column ${i + 1}` : names[i]
    const cell = readHeaderCell(name)
    const unitText = (units[i] ?? '').replace(/^[[(](.*)[\])]$/, '$1').trim()
    return unitText === '' || cell.unitText !== null ? cell : { ...cell, unitText }
  })
}

function noTable(lines: readonly string[], fileName: string): Error {
  if (lines.some((line) => line.length > 100_000)) {
    const widest = Math.max(...DELIMITERS.map((mark) => splitLine(lines[0], mark).length))
    if (widest > MOST_COLUMNS)
      return importError('too-many-columns', { fileName, line: 1, count: widest, limit: MOST_COLUMNS })
  }
  const filled = lines.filter((line) => line.trim() !== '')
  if (filled.length === 0) return importError('file-empty', { fileName })
  const last = filled[filled.length - 1]
  const widths = DELIMITERS.map((mark) => splitLine(last, mark).filter((cell) => cell.trim() !== '').length)
  const code = Math.max(...widths) >= 2 && filled.length <= 60 ? 'file-header-only' : 'file-without-table'
  return importError(code, { fileName, line: lines.indexOf(last) + 1, found: last.slice(0, 80) })
}
