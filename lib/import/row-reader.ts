import { cellKind } from './cell-kind'
import type { ChannelPlan } from './channel-plan'
import { decimalEvidence } from './decimal-evidence'
import type { DecimalMark } from './number'
import { splitLine } from './parse-rows'
import type { ProblemLog } from './problem-log'
import { RowLines } from './rows'
import { StampColumn } from './stamp-column'
import type { Table } from './table'
import type { TimePlan } from './time-column'
import { ValueColumn } from './value-column'

/** Reads the table's rows one by one into growing columns and counts what is wrong with them. */
export class RowReader {
  rowsRead = 0
  rowsKept = 0
  readonly lines = new RowLines()
  readonly columns: readonly ValueColumn[]
  readonly stamps: StampColumn | null
  readonly numericTime: ValueColumn | null
  private readonly row: Float64Array
  private readonly width: number
  private readonly usualWidth: number

  constructor(
    private readonly table: Table,
    private readonly time: TimePlan,
    private readonly plans: readonly ChannelPlan[],
    public mark: DecimalMark | null,
    private readonly problems: ProblemLog,
  ) {
    this.columns = plans.map((plan) => new ValueColumn(mark, plan.cellUnit, plan.isSwitch))
    this.stamps = time.kind === 'stamp' ? new StampColumn() : null
    this.numericTime = time.kind === 'numeric' ? new ValueColumn(mark, null, false) : null
    this.row = new Float64Array(plans.length)
    this.width = table.headers.length
    this.usualWidth = table.sample[0]?.length ?? this.width
  }

  readLine(line: string, number: number, cutOff: boolean): void {
    const cells = splitLine(line, this.table.delimiter)
    if (cells.length <= 1 && line.trim() === '') return
    if (cells.length > 1 && cells.every((cell) => cell.trim() === '')) return
    if (this.isHeaderAgain(line)) {
      this.problems.add('repeated-header', { line: number })
      return
    }
    this.rowsRead++
    const excess = cells.length > this.width && cells.slice(this.width).some((cell) => cell.trim() !== '')
    // The last cell of a line cut off by the file's end may have lost digits.
    if (cutOff && cells.length < this.usualWidth) cells[cells.length - 1] = ''
    if (this.mark === null) this.seekMark(cells)
    this.readRow(cells, number, excess)
  }

  private isHeaderAgain(line: string): boolean {
    const first = line.charCodeAt(0)
    if (first >= 48 && first <= 57) return false
    return this.table.headerLines.has(line.trim())
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
    this.numericTime?.settle(mark)
  }

  private readRow(cells: readonly string[], line: number, excess: boolean): void {
    const { row, plans, columns, time } = this
    // A line of one word among many columns is a note of the logger's: it has no cells to miss.
    if (cells.length === 1 && this.width > 1 && cellKind(cells[0].trim()) === 'text') {
      this.reject('row-rejected-time', line, { found: cells[0].trim().slice(0, 40) })
      return
    }
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
      timed = !Number.isNaN(stamp)
    }
    if (excess) this.reject('row-rejected-columns', line, { actual: cells.length, expected: this.width })
    else if (!timed)
      this.reject('row-rejected-time', line, { found: (dateCell ?? timeCell).trim().slice(0, 40) })
    else if (filled === 0) this.reject('row-rejected-empty', line, {})
    else {
      this.stamps?.keep(dateCell ?? timeCell)
      this.numericTime?.keep(stamp)
      for (let i = 0; i < columns.length; i++) columns[i].keep(row[i])
      this.lines.note(this.rowsKept++, line)
    }
  }

  private reject(
    code: 'row-rejected-columns' | 'row-rejected-time' | 'row-rejected-empty',
    line: number,
    values: Record<string, string | number>,
  ): void {
    const { time } = this
    const timed = code === 'row-rejected-time' && time.kind !== 'row-number'
    const column = timed ? this.table.headers[time.column].column : null
    this.problems.add(code, { line, column, values })
  }
}
