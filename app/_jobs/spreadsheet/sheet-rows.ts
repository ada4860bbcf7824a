import { TankwardError } from '@/lib/errors'
import { cellText } from './number-formats'
import type { SheetPart, Workbook } from './workbook'
import type { ZipParts } from './zip-parts'

/** The format's own limits (ECMA-376). */
const MOST_ROWS = 1_048_576
const MOST_COLUMNS = 16_384

/** A row of a sheet as text; rows without cells are left out. */
export interface SheetRow {
  /** From 1. */
  readonly row: number
  readonly cells: readonly string[]
}

/** Column of a cell's name, from 0: B7 is 1; NaN where it is none. */
function columnOf(reference: string): number {
  let column = 0
  let at = 0
  for (; at < reference.length; at++) {
    const letter = reference.charCodeAt(at) - 64
    if (letter < 1 || letter > 26) break
    column = column * 26 + letter
  }
  return at === 0 ? Number.NaN : column - 1
}

/**
 * The rows of a sheet, cells as text: shared and own texts, cached values of formulas, dates as ISO 8601, errors as
 * the sheet shows them, truths as 1 and 0.
 * @throws TankwardError `spreadsheet-damaged`, `spreadsheet-too-large`
 */
export async function* sheetRows(
  parts: ZipParts,
  sheet: SheetPart,
  { texts, shown, is1904 }: Workbook,
  fileName: string,
): AsyncGenerator<SheetRow> {
  const ready: SheetRow[] = []
  const place = { fileName, part: sheet.name }
  let row = 0
  let column = -1
  let cells: string[] = []
  let type = 'n'
  let style = 0
  let value = ''
  let isValue = false

  function textOf(): string {
    if (type === 's') return texts[Number(value)] ?? ''
    if (type === 'str' || type === 'inlineStr' || type === 'e') return value
    if (type === 'b') return value.trim() === '1' ? '1' : '0'
    if (type === 'd') return value.trim().replace('T', ' ')
    const number = value.trim() === '' ? Number.NaN : Number(value)
    return Number.isNaN(number) ? value.trim() : cellText(number, shown[style] ?? 'number', is1904)
  }

  const pieces = parts.read(sheet.part, {
    onOpen(name, attributes) {
      if (name === 'row') {
        row = attributes.r ? Number(attributes.r) : row + 1
        column = -1
        cells = []
        if (!(row > (ready.at(-1)?.row ?? 0) && row <= MOST_ROWS))
          throw new TankwardError('spreadsheet-damaged', { ...place, line: row })
      } else if (name === 'c') {
        const named = columnOf(attributes.r ?? '')
        column = Number.isNaN(named) ? column + 1 : named
        if (column >= MOST_COLUMNS) throw new TankwardError('spreadsheet-damaged', { ...place, line: row })
        type = attributes.t ?? 'n'
        style = Number(attributes.s ?? 0)
        value = ''
      } else isValue = name === 'v' || (name === 't' && type === 'inlineStr')
    },
    onText(text) {
      if (isValue) value += text
    },
    onClose(name) {
      if (name === 'v' || name === 't') isValue = false
      else if (name === 'c' && value !== '') {
        while (cells.length < column) cells.push('')
        cells[column] = textOf()
      } else if (name === 'row' && cells.length > 0) ready.push({ row, cells })
    },
  })
  for await (const _ of pieces) {
    // One row stays, so that the next one's number can be held against it.
    const last = ready.pop()
    yield* ready
    ready.length = 0
    if (last) ready.push(last)
  }
  yield* ready
}
