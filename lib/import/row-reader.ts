import { cellKind } from './cell-kind'
import type { ChannelPlan } from './channel-plan'
import { DecimalVote, decimalEvidence } from './decimal-evidence'
import { type DecimalMark, parseNumber } from './number'
import { splitLine } from './parse-rows'
import type { ProblemLog } from './problem-log'
import { RowLines } from './rows'
import { StampColumn } from './stamp-column'
import type { Table } from './table'
import type { TimePlan } from './time-column'
import { ValueColumn } from './value-column'

const SPACE_CODE = 32

/** True for what editors and memory cards leave at a file's end (blanks, NULs, an end mark): no row. */
function isPadding(line: string): boolean {
  for (let i = 0; i < line.length; i++) if (line.charCodeAt(i) > SPACE_CODE) return line.trim() === ''
  return true
}

function markOfColumn(table: Table, column: number): DecimalMark | null {
  const vote = new DecimalVote()
  for (const row of table.sample) vote.see(row[column] ?? '')
  return vote.mark
}

/** Reads the table's rows one by one into growing columns and counts what is wrong with them. */
export class RowReader {
  rowsRead = 0
  rowsKept = 0
  readonly lines = new RowLines()
  readonly columns: readonly ValueColumn[]
  readonly stamps: StampColumn | null
  readonly numericTime: ValueColumn | null
  /** The mark that elapsed times show for themselves: some loggers write them with a point whatever the values have. */
  readonly ownTimeMark: DecimalMark | null
  private readonly row: Float64Array
  private readonly width: number
  /** Cells to most rows: a row of so many is never misplaced. */
  readonly usualWidth: number
  /** True behind a line from above the table that came again: others of them may follow. */
  isAboveTable = false

  constructor(
    private readonly table: Table,
    private readonly time: TimePlan,
    private readonly plans: readonly ChannelPlan[],
    public mark: DecimalMark | null,
    private readonly problems: ProblemLog,
  ) {
    this.columns = plans.map((plan) => new ValueColumn(mark, plan.cellUnit, plan.isSwitch))
    this.stamps = time.kind === 'stamp' ? new StampColumn(time.form) : null
    this.ownTimeMark = time.kind === 'numeric' ? markOfColumn(table, time.column) : null
    this.numericTime = time.kind === 'numeric' ? new ValueColumn(this.ownTimeMark ?? mark, null, false) : null
    this.row = new Float64Array(plans.length)
    this.width = table.headers.length
    this.usualWidth = table.sample[0]?.length ?? this.width
  }

  readLine(line: string, number: number, cutOff: boolean): void {
    const cells = splitLine(line, this.table.delimiter)
    if (cells.length <= 1 && isPadding(line)) return
    if (cells.length > 1 && cells.every((cell) => cell.trim() === '')) return
    if (this.isHeaderAgain(line)) {
      this.isAboveTable = true
      const { headerText } = this.table
      if (headerText === null || line.trim() === headerText) {
        this.problems.add('repeated-header', { line: number })
      }
      return
    }
    this.isAboveTable = false
    this.rowsRead++
    // A line of one word among many columns is a note of the logger's: it has no cells to miss.
    if (cells.length === 1 && this.width > 1 && cellKind(cells[0].trim()) === 'text') {
      this.reject('row-rejected-time', number, { found: cells[0].trim().slice(0, 40) }, cells[0].trim())
      return
    }
    if (cutOff) this.distrustLast(cells)
    else if (cells.length !== this.usualWidth && this.isMisplaced(cells)) {
      // Which value belongs to which column is anyone's guess: none is read.
      this.reject(
        'row-rejected-columns',
        number,
        { actual: cells.length, expected: this.expectedWidth },
        line.trim(),
      )
      return
    }
    if (this.mark === null) this.seekMark(cells)
    this.readRow(cells, number)
  }

  private isHeaderAgain(line: string): boolean {
    const first = line.charCodeAt(0)
    // A line of numbers above the table is known again only behind the words that stood there, too.
    if (first >= 48 && first <= 57 && !this.isAboveTable) return false
    return this.table.headerLines.has(line.trim())
  }

  /** True where a row has lost or gained separators, so that its values may stand in wrong columns. */
  private isMisplaced(cells: readonly string[]): boolean {
    const { constantWidth } = this.table
    if (constantWidth !== null && cells.length < constantWidth) return true
    return cells.length > this.width && cells.slice(this.width).some((cell) => cell.trim() !== '')
  }

  private get expectedWidth(): number {
    return this.table.constantWidth ?? this.width
  }

  /** The last cell of a line cut off by the file's end may have lost digits: it is not read then. */
  private distrustLast(cells: string[]): void {
    const last = cells.length - 1
    const decimals = (cell: string): number => /[.,](\d+)$/.exec(cell.trim())?.[1].length ?? 0
    const usual = new Set(this.table.sample.slice(0, -1).map((row) => decimals(row[last] ?? '')))
    const fewer = usual.size === 1 && !usual.has(decimals(cells[last]))
    if (cells.length < this.usualWidth || fewer) cells[last] = ''
  }

  /** True where a line by itself has a row's time: it is no part of a cell begun above. */
  startsRow(line: string): boolean {
    const { time } = this
    const cells = splitLine(line, this.table.delimiter)
    if (cells.length < 2) return false
    if (time.kind === 'row-number') return cells.length >= this.usualWidth
    const kind = cellKind((cells[time.column] ?? '').trim())
    return kind === 'number' || kind === 'datetime' || kind === 'date' || kind === 'time'
  }

  private seekMark(cells: readonly string[]): void {
    for (const cell of cells) {
      const evidence = decimalEvidence(cell)
      if (evidence !== 'point' && evidence !== 'comma') continue
      this.settleMark(evidence === 'point' ? '.' : ',')
      return
    }
  }

  settleMark(mark: DecimalMark): void {
    this.mark = mark
    for (const column of this.columns) column.settle(mark)
    if (this.ownTimeMark === null) this.numericTime?.settle(mark)
  }

  private readRow(cells: readonly string[], line: number): void {
    const { row, plans, columns, time } = this
    let filled = 0
    for (let i = 0; i < plans.length; i++) {
      const value = columns[i].read(cells[plans[i].index] ?? '', line)
      row[i] = value
      if (!Number.isNaN(value)) filled++
    }
    const timeCell = time.kind === 'row-number' ? '' : (cells[time.column] ?? '')
    const dateCell = time.kind === 'stamp' && time.dateColumn !== null ? (cells[time.dateColumn] ?? '') : null
    let stamp = 0
    let timed = true
    const msCell = time.kind === 'stamp' && time.msColumn !== null ? (cells[time.msColumn] ?? '') : null
    if (this.stamps !== null) timed = this.stamps.read(timeCell, dateCell, msCell)
    else if (this.numericTime !== null) {
      stamp = this.numericTime.read(timeCell, line)
      if (time.kind === 'numeric' && time.dayColumn !== null) {
        stamp += parseNumber((cells[time.dayColumn] ?? '').trim(), this.mark ?? '.')
      }
      timed = !Number.isNaN(stamp)
    }
    if (!timed) {
      const found = (dateCell ?? timeCell).trim()
      this.reject('row-rejected-time', line, { found: found.slice(0, 40) }, found)
    } else if (filled === 0) {
      this.reject('row-rejected-empty', line, {}, plans.map(({ index }) => cells[index] ?? '').join(' | '))
    } else {
      this.stamps?.keep(dateCell ?? timeCell)
      this.numericTime?.keep(stamp)
      for (let i = 0; i < columns.length; i++) columns[i].keep(row[i])
      this.lines.note(this.rowsKept++, line)
    }
  }

  /** Counts rows of successive lines whose cells are in the columns already. */
  countRows(count: number, firstLine: number): void {
    this.lines.note(this.rowsKept, firstLine)
    this.rowsRead += count
    this.rowsKept += count
  }

  private reject(
    code: 'row-rejected-columns' | 'row-rejected-time' | 'row-rejected-empty',
    line: number,
    values: Record<string, string | number>,
    cell: string,
  ): void {
    const { time } = this
    const timed = code === 'row-rejected-time' && time.kind !== 'row-number'
    const column = timed ? this.table.headers[time.column].column : null
    this.problems.add(code, { line, column, values, examples: [{ line, cell }] })
  }
}
