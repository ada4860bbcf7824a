import type { CellKind } from './cell-kind'
import { columnKind } from './column-kind'
import { importError } from './fail'
import { type DecimalMark, parseNumber } from './number'
import type { PreambleTime } from './preamble'
import type { Table } from './table'
import {
  isCompactStamp,
  isCompactTime,
  isDottedTime,
  isMidnightOnly,
  serialParts,
  type TimeForm,
} from './time-forms'
import { TIME_WORDS } from './time-words'

/** How the rows are stamped. Numeric: `scaleMs` per unit of the number, `null` where still to be settled. */
export type TimePlan =
  | {
      readonly kind: 'stamp'
      readonly column: number
      readonly dateColumn: number | null
      readonly msColumn: number | null
      /** Null where each cell shows by itself what it is. */
      readonly form: TimeForm | null
    }
  | {
      readonly kind: 'numeric'
      readonly column: number
      /** A column of whole days to be added. */
      readonly dayColumn: number | null
      readonly unitText: string | null
    }
  | { readonly kind: 'row-number'; readonly intervalMs: number }

const ROW_WORDS =
  /^(?:no\.?|nr\.?|n°|#|index|idx|sample|row|scan|lfd\.?\s*nr\.?|zeile|satz|messpunkt|record|point|punto|muestra|ligne|campione)/i
export const TIME_UNITS =
  /^(?:s|sec|secs|sek|seconds?|sekunden?|ms|msec|us|µs|min|mins|minutes?|h|hr|hrs|hours?|d|days?)$/i

const MILLISECONDS =
  /^(?:ms|msec|milli ?s(?:ec(?:onds?)?)?|millisekunden?|millisecondes?|milisegundos?|millisecondi?)$/i

function risesIn(column: readonly string[], mark: DecimalMark): boolean {
  const values = column.map((cell) => parseNumber(cell, mark)).filter((value) => !Number.isNaN(value))
  if (values.length < 2 || values.length < column.length * 0.8) return false
  let rises = 0
  for (let i = 1; i < values.length; i++) if (values[i] > values[i - 1]) rises++
  return rises >= (values.length - 1) * 0.9
}

/**
 * Which column or columns say when: a stamp with date first, then date and time apart, a number
 * under a time word, a time of day; last a rate in the preamble with the rows' own count.
 * @throws TankwardError where nothing says when
 */
export function findTime(
  table: Table,
  preamble: PreambleTime,
  mark: DecimalMark,
  fileName: string,
): TimePlan {
  const columns = table.headers.map((_, c) => table.sample.map((row) => row[c] ?? ''))
  const kinds: CellKind[] = columns.map(columnKind)
  const named = table.headers.map((header) => TIME_WORDS.test(header.name))
  columns.forEach((cells, c) => {
    if (kinds[c] === 'number' && (named[c] || c === 0) && isCompactStamp(cells)) kinds[c] = 'datetime'
  })
  const dotted = columns.map((cells, c) => kinds[c] !== 'number' && isDottedTime(cells))
  dotted.forEach((yes, c) => {
    if (yes) kinds[c] = 'time'
  })
  const first = (test: (c: number) => boolean): number => {
    const hit = kinds.findIndex((_, c) => named[c] && test(c))
    return hit >= 0 ? hit : kinds.findIndex((_, c) => test(c))
  }
  const both = first((c) => kinds[c] === 'datetime')
  const msColumn = findMilliseconds(table, kinds)
  const time = first((c) => kinds[c] === 'time')
  const dateAtMidnight = both >= 0 && time >= 0 && isMidnightOnly(columns[both])
  if (both >= 0 && !dateAtMidnight) {
    return { kind: 'stamp', column: both, dateColumn: null, msColumn, form: null }
  }
  const basicDate = kinds.findIndex((kind, c) => kind === 'number' && named[c] && isBasicDate(columns[c]))
  const plainDate = dateAtMidnight ? both : first((c) => kinds[c] === 'date')
  const date = plainDate >= 0 ? plainDate : basicDate
  const dateColumn = date >= 0 ? date : null
  if (time >= 0) {
    return { kind: 'stamp', column: time, dateColumn, msColumn, form: dotted[time] ? 'dotted' : null }
  }
  const compact = kinds.findIndex(
    (kind, c) => kind === 'number' && c !== date && named[c] && isCompactTime(columns[c]),
  )
  if (date >= 0 && compact >= 0) {
    return { kind: 'stamp', column: compact, dateColumn, msColumn, form: 'compact' }
  }
  const serial = serialParts(columns, kinds, named)
  if (serial !== null) {
    return { kind: 'numeric', column: serial.share, dayColumn: serial.day, unitText: null }
  }
  const unitOf = (c: number): string | null => {
    const unit = table.headers[c].unitText
    if (unit !== null) return unit
    const bare = table.headers[c].name.trim()
    return TIME_UNITS.test(bare)
      ? bare
      : (/(?:^|[\s_])(ms|sec|seconds?|min|minutes)$/i.exec(bare)?.[1] ?? null)
  }
  const isTimeUnit = (c: number): boolean => {
    const unit = unitOf(c)
    return unit === null || TIME_UNITS.test(unit)
  }
  const numeric = kinds.findIndex(
    (kind, c) => kind === 'number' && named[c] && isTimeUnit(c) && !ROW_WORDS.test(table.headers[c].name),
  )
  if (numeric >= 0) {
    return { kind: 'numeric', column: numeric, dayColumn: null, unitText: unitOf(numeric) }
  }
  if (preamble.intervalMs !== null) return { kind: 'row-number', intervalMs: preamble.intervalMs }
  const unnamed = table.headerIndex === null || /^Column \d+$/.test(table.headers[0].column)
  const counting = unnamed ? countingColumn(columns, kinds, mark) : -1
  if (counting >= 0) return { kind: 'numeric', column: counting, dayColumn: null, unitText: null }
  const cells = table.headers.map((header) => header.column).join(' | ')
  throw importError('time-column-not-found', {
    fileName,
    line: table.headerIndex === null ? table.firstDataIndex + 1 : table.headerIndex + 1,
    columns: cells.slice(0, 400),
  })
}

/** The first column that rises all along, or -1; one that counts the rows only where no other rises. */
function countingColumn(
  columns: readonly (readonly string[])[],
  kinds: readonly CellKind[],
  mark: DecimalMark,
): number {
  const rising = columns.flatMap((cells, c) => (kinds[c] === 'number' && risesIn(cells, mark) ? [c] : []))
  const countsRows = (c: number): boolean =>
    columns[c].every(
      (cell, i) => /^\d+$/.test(cell) && (i === 0 || Number(cell) > Number(columns[c][i - 1])),
    ) && Number(columns[c][0]) <= 1
  return rising.find((c) => !countsRows(c)) ?? rising[0] ?? -1
}

/** The column of milliseconds that some loggers keep beside a stamp in whole seconds, or null. */
function findMilliseconds(table: Table, kinds: readonly CellKind[]): number | null {
  const at = table.headers.findIndex(
    ({ column }, c) =>
      kinds[c] === 'number' &&
      MILLISECONDS.test(column) &&
      table.sample.every((row) => /^\d{0,3}$/.test(row[c] ?? '')),
  )
  return at < 0 ? null : at
}

function isBasicDate(column: readonly string[]): boolean {
  const filled = column.filter((cell) => cell !== '')
  return filled.length > 0 && filled.every((cell) => /^(?:19|20)\d{6}$/.test(cell))
}
