import Papa from 'papaparse'
import type { Delimiter } from './delimiter'

const SPACES = /\s+/
const SPACED_FIELD = /"[^"]*"|\S+/g

/**
 * One line as its fields. A line is parsed on its own, so that a stray quotation mark can spoil its
 * own row only and never swallow the rows after it.
 */
export function splitLine(line: string, delimiter: Delimiter): string[] {
  if (delimiter === ' ') {
    const text = line.trim()
    if (text === '') return ['']
    if (!text.includes('"')) return text.split(SPACES)
    return (text.match(SPACED_FIELD) ?? ['']).map((field) => field.replaceAll('"', ''))
  }
  if (!line.includes('"')) return line.split(delimiter)
  if (line.split('"').length % 2 === 0) return line.replaceAll('"', '').split(delimiter)
  const parsed = Papa.parse<string[]>(line, { delimiter, newline: '\n', header: false })
  return parsed.errors.length === 0 && parsed.data.length === 1
    ? parsed.data[0]
    : line.replaceAll('"', '').split(delimiter)
}
