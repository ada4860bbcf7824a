import { harmless } from './csv'
import { flatTable } from './flat-table'
import { type Report, tablesOf } from './report'

const LONGEST_SHEET_NAME = 31
const WIDEST = 60
const NARROWEST = 8
const HEADER_ROW = 3

/** Sheet names: short, and without what spreadsheets refuse. */
const sheetName = (title: string) => title.replace(/[\\/*?:[\]]/g, ' ').slice(0, LONGEST_SHEET_NAME)

/** A report as a spreadsheet: what it is on the first sheet, then a sheet for each table. Numbers are numbers; nothing is a formula. */
export async function reportXlsx(report: Report): Promise<Uint8Array> {
  const { Workbook } = await import('exceljs')
  const book = new Workbook()
  const about = book.addWorksheet('About')
  about.addRow([harmless(report.title)]).font = { bold: true, size: 14 }
  about.addRow([harmless(report.subtitle)])
  for (const { title, facts, paragraphs, list } of report.sections) {
    if (!facts && !paragraphs && !list) continue
    about.addRow([])
    about.addRow([harmless(title)]).font = { bold: true }
    for (const line of paragraphs ?? []) about.addRow([harmless(line)])
    for (const [name, value] of facts ?? []) about.addRow([harmless(name), harmless(value)])
    for (const line of list ?? []) about.addRow([harmless(line)])
  }
  about.getColumn(1).width = 40
  about.getColumn(2).width = WIDEST
  const taken = new Set<string>(['About'])
  for (const table of tablesOf(report)) {
    let name = sheetName(table.title)
    for (let n = 2; taken.has(name); n++)
      name = `${sheetName(table.title).slice(0, LONGEST_SHEET_NAME - 3)} ${n}`
    taken.add(name)
    const sheet = book.addWorksheet(name, { views: [{ state: 'frozen', ySplit: HEADER_ROW }] })
    const { header, rows } = flatTable(table)
    sheet.addRow([harmless(table.title)]).font = { bold: true }
    sheet.addRow([])
    sheet.addRow(header.map(harmless)).font = { bold: true }
    for (const row of rows)
      sheet.addRow(row.map((cell) => (typeof cell === 'string' ? harmless(cell) : cell)))
    header.forEach((text, k) => {
      const longest = Math.max(text.length, ...rows.map((row) => String(row[k] ?? '').length))
      sheet.getColumn(k + 1).width = Math.min(WIDEST, Math.max(NARROWEST, longest + 1))
    })
  }
  return new Uint8Array(await book.xlsx.writeBuffer())
}
