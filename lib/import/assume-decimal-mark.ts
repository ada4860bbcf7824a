import type { Delimiter } from './delimiter'
import { type DecimalMark, parseNumber } from './number'
import type { ProblemLog } from './problem-log'
import type { RowReader } from './row-reader'

/**
 * No cell settled the mark: every marked one reads as `1.234` or as 1234. Thousands are the likelier reading only where
 * no whole number above 1000 stands beside them, and either one below does or they are quoted commas between commas: who
 * writes decimal commas seldom parts cells by them (common practice, no source). A person's answer goes before.
 */
export function assumeDecimalMark(
  reader: RowReader,
  problems: ProblemLog,
  line: number,
  delimiter: Delimiter,
  answer: DecimalMark | undefined,
): void {
  const points = reader.columns.reduce((sum, column) => sum + column.openPoints, 0)
  const commas = reader.columns.reduce((sum, column) => sum + column.openCommas, 0)
  const used: DecimalMark = commas > points ? ',' : '.'
  if (points + commas === 0) {
    reader.settleMark('.')
    return
  }
  if (answer !== undefined) {
    reader.settleMark(answer)
    return
  }
  const below = reader.columns.some((column) => column.openMarked > 0 && column.unmarkedBelow > 0)
  const above = reader.columns.some((column) => column.openMarked > 0 && column.unmarkedAbove > 0)
  const thousands = (below || used === delimiter) && !above
  const other: DecimalMark = used === '.' ? ',' : '.'
  const assumed = thousands ? other : used
  reader.settleMark(assumed)
  const example = reader.columns.find((column) => column.openText !== null)?.openText ?? ''
  const own: DecimalMark = example.includes(',') ? ',' : '.'
  const decimal = parseNumber(example, own)
  const whole = parseNumber(example, own === '.' ? ',' : '.')
  problems.add('assumed-decimal-mark', {
    line,
    count: points + commas,
    values: {
      assumed,
      other: thousands ? used : other,
      mark: used,
      example,
      reading: own === assumed ? decimal : whole,
      otherReading: own === assumed ? whole : decimal,
    },
  })
}
