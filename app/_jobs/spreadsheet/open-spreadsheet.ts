import { TankwardError } from '@/lib/errors'
import type { SheetSource } from '@/lib/import/report'
import { type SheetRow, sheetRows } from './sheet-rows'
import { isWorkbook, readWorkbook, type SheetPart, type Workbook } from './workbook'
import { openParts, type ZipParts } from './zip-parts'

/** Rows looked at to tell whether a sheet holds a recording … */
const LOOKED_AT = 300
/** … and rows of two readings or more that make it one. */
const FEWEST_ROWS = 3
const MOST_SHEETS = 50
const PIECE_CHARACTERS = 1 << 16

/** A spreadsheet's recording as a text table, tabs between its cells; a line for every row of the sheet. */
export interface OpenedSpreadsheet {
  readonly source: SheetSource
  text(onRow?: (row: number) => void): AsyncGenerator<Uint8Array>
  close(): void
}

const isReading = (cell: string): boolean => /^[+-]?[.,]?\d/.test(cell.trim())

/** A row of readings; a row may also stand in one cell, as a logger wrote it. */
function isDataRow({ cells }: SheetRow): boolean {
  const filled = cells.filter((cell) => cell !== '')
  return (filled.length === 1 ? filled[0].split(/[;,\t]/) : filled).filter(isReading).length >= 2
}

async function holdsRecording(parts: ZipParts, sheet: SheetPart, workbook: Workbook, fileName: string) {
  let seen = 0
  let rows = 0
  for await (const row of sheetRows(parts, sheet, workbook, fileName)) {
    if (isDataRow(row)) rows++
    if (rows >= FEWEST_ROWS) return true
    if (++seen >= LOOKED_AT) break
  }
  return false
}

/** The first sheet with a recording, those that people see before hidden ones. */
async function chooseSheet(
  parts: ZipParts,
  workbook: Workbook,
  fileName: string,
): Promise<[SheetPart, string[]]> {
  const { sheets } = workbook
  const inOrder = [
    ...sheets.filter(({ isHidden }) => !isHidden),
    ...sheets.filter(({ isHidden }) => isHidden),
  ]
  const holding: SheetPart[] = []
  for (const sheet of inOrder.slice(0, MOST_SHEETS))
    if (await holdsRecording(parts, sheet, workbook, fileName)) holding.push(sheet)
  const [chosen, ...others] = holding
  if (chosen) return [chosen, others.map(({ name }) => name)]
  throw new TankwardError('spreadsheet-without-table', {
    fileName,
    sheets: sheets
      .map(({ name }) => name)
      .join(' | ')
      .slice(0, 300),
  })
}

/** Cells that hold what parts cells and lines would be two of them. */
const plain = (cell: string): string => cell.replace(/[\t\r\n]+/g, ' ').replaceAll('"', '″')

function lineOf(cells: readonly string[]): string {
  const filled = cells.filter((cell) => cell !== '')
  return filled.length === 1 ? filled[0].replace(/[\r\n]+/g, ' ') : cells.map(plain).join('\t')
}

/**
 * Opens a spreadsheet in the format of ECMA-376 for the first of its sheets that holds a recording.
 * @returns null for a zip file that is no such spreadsheet
 * @throws TankwardError `spreadsheet-damaged`, `spreadsheet-too-large`, `spreadsheet-without-table`
 */
export async function openSpreadsheet(path: string, fileName: string): Promise<OpenedSpreadsheet | null> {
  const parts = await openParts(path, fileName)
  try {
    if (!isWorkbook(parts)) {
      parts.close()
      return null
    }
    const workbook = await readWorkbook(parts, fileName)
    const [sheet, others] = await chooseSheet(parts, workbook, fileName)
    return {
      source: { sheet: sheet.name, others },
      close: () => parts.close(),
      async *text(onRow = () => {}) {
        const encoder = new TextEncoder()
        let waiting = ''
        let line = 1
        for await (const { row, cells } of sheetRows(parts, sheet, workbook, fileName)) {
          waiting += `${'\n'.repeat(row - line)}${lineOf(cells)}`
          line = row
          if (waiting.length < PIECE_CHARACTERS) continue
          onRow(row)
          yield encoder.encode(waiting)
          waiting = ''
        }
        yield encoder.encode(`${waiting}\n`)
      },
    }
  } catch (error) {
    parts.close()
    throw error
  }
}
