import { type FlatCell, flatTable } from './flat-table'
import type { ReportTable } from './report'

/** Spreadsheets take a cell that begins so for a formula (OWASP, CSV injection); as text it begins with an apostrophe. */
const FORMULA_START = /^[=+\-@\t\r\n＝＋－＠]/

/** Text that no spreadsheet runs. */
export const harmless = (text: string) => (FORMULA_START.test(text) ? `'${text}` : text)

function csvCell(cell: FlatCell): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : ''
  const text = harmless(cell)
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

/** A table as CSV (RFC 4180, UTF-8 with its mark so that spreadsheets read it as such). Numbers stay numbers. */
export function tableCsv(table: ReportTable): string {
  const { header, rows } = flatTable(table)
  const lines = [header, ...rows].map((row) => row.map(csvCell).join(','))
  return `\uFEFF${lines.join('\r\n')}\r\n`
}
