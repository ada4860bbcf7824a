import type { ChannelPlan } from './channel-plan'
import { decimalEvidence } from './decimal-evidence'
import { KnownStamp } from './known-stamp'
import { readMilliseconds, readPlainNumber } from './number-bytes'
import { NumberCells } from './number-cells'
import { RowCells } from './row-cells'
import type { RowReader } from './row-reader'
import { DATE, MILLISECONDS, rolesOf, STAMP, UNUSED } from './row-roles'
import type { StampColumn } from './stamp-column'
import type { Table } from './table'
import type { TakenLines } from './text-lines'
import type { TimePlan } from './time-column'

const LINE_FEED = 10
const RETURN = 13
const SPACE = 32
const QUOTE = 34
const ZERO = 48
const NINE = 57
/** Rows that go to their columns at once: few enough to stay near the processor. */
const MOST_WAITING = 512
const NO_BYTES = new Uint8Array(0)

/** No line read; no such cell. */
const NONE = -1

interface Layout {
  readonly table: Table
  readonly time: TimePlan
  readonly plans: readonly ChannelPlan[]
}

/**
 * Reads rows straight from bytes where nothing about them is unusual: as many cells as most rows have, each alone or whole
 * in quotation marks, at least one number among the mapped cells. Such rows need none of the reader's judgement; their
 * numbers go to its columns by the hundred without ever being text. A cell that is no plain number (a mark, a switch's
 * word, too many digits) is read by its column as always; every other line is left to the reader.
 */
export class RegularRows {
  /** Rows that wait for their columns, one after the other: the plans' numbers, then the time. */
  private readonly waiting: Float64Array
  private readonly stride: number
  private waitingCount = 0
  /** Where the next line begins. */
  private next = 0
  private waitingLine = 0
  private readonly last: number
  private readonly delimiter: number
  private readonly stampAt: number
  private readonly dateAt: number
  private readonly msAt: number
  private readonly cells: RowCells
  private readonly odd: Int32Array
  private readonly numbers: NumberCells
  private readonly known: KnownStamp
  private readonly ms = new Float64Array(1)
  /** Empty cells among the numbers of the line that is being read. */
  private empties = 0
  /** True where the stamps of the rows that wait are of the known day, false where they are in their column already. */
  private isKnownDay = false
  private isOpen = false
  /** False where a line above the table may come again that looks like one of its rows. */
  private readonly mayBeginOtherwise: boolean

  private constructor(
    private readonly reader: RowReader,
    private readonly roles: Int32Array,
    { table, plans }: Layout,
  ) {
    this.stride = plans.length + 1
    this.waiting = new Float64Array(this.stride * MOST_WAITING)
    this.last = roles.length - 1
    this.delimiter = table.delimiter.charCodeAt(0)
    this.stampAt = roles.indexOf(STAMP)
    this.dateAt = roles.indexOf(DATE)
    this.msAt = roles.indexOf(MILLISECONDS)
    this.cells = new RowCells(roles.length, this.delimiter)
    this.known = new KnownStamp(this.delimiter)
    this.odd = new Int32Array(roles.length)
    this.numbers = new NumberCells(roles, plans, this.delimiter)
    this.mayBeginOtherwise = ![...table.headerLines].some((line) => reader.startsRow(line))
  }

  /** Null for a table whose rows are never regular. */
  static of(reader: RowReader, layout: Layout): RegularRows | null {
    const { time, plans } = layout
    if (reader.usualWidth < 2 || (time.kind === 'numeric' && time.dayColumn !== null)) return null
    const columns = plans.map((plan) => plan.index)
    const roles = rolesOf(time, columns, reader.usualWidth)
    return roles === null ? null : new RegularRows(reader, roles, layout)
  }

  /** Reads whole lines from `from` on, the first of them the file's `line`th, up to one that is not regular. */
  take(bytes: Uint8Array, from: number, line: number): TakenLines {
    const { reader, known } = this
    this.isOpen = reader.mark === null
    // While the values' mark is open each row is evidence, the time's own mark too.
    if (this.isOpen && reader.ownTimeMark !== null) return { count: 0, end: from }
    this.numbers.settle(reader.mark, reader.ownTimeMark)
    const { stamps } = reader
    if (known.day !== null && stamps?.wantsText(known.day)) this.isKnownDay = false
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    // Every line before the last line feed ends in one, so that no cell is sought beyond the bytes.
    const lastFeed = bytes.lastIndexOf(LINE_FEED)
    let count = 0
    this.next = from
    while (this.next <= lastFeed) {
      const number = line + count
      let rows = this.readLines(bytes, view, lastFeed, number)
      if (rows === 0 && this.readOddLine(bytes, this.next, number)) rows = 1
      if (rows === 0) break
      if (this.waitingCount === 0) this.waitingLine = number
      this.waitingCount += rows
      count += rows
      if (this.waitingCount === MOST_WAITING) this.release()
    }
    this.release()
    return { count, end: this.next }
  }

  private begins(bytes: Uint8Array, start: number): boolean {
    return this.mayBeginOtherwise || (bytes[start] >= ZERO && bytes[start] <= NINE)
  }

  /**
   * Reads lines of the known minute whose cells are numbers or empty, for as long as they come and find place to wait.
   * Next to all rows go this way: what is not needed for a bare number or stamp stands in methods of its own.
   * @returns how many it read
   */
  private readLines(bytes: Uint8Array, view: DataView, lastFeed: number, firstLine: number): number {
    const { roles, last, delimiter, waiting, stride, known, isKnownDay } = this
    const { marks } = this.numbers
    const needsLook = this.isOpen || this.msAt !== NONE
    const room = MOST_WAITING - this.waitingCount
    let base = this.waitingCount * stride
    let rows = 0
    for (let start = this.next; start <= lastFeed && rows < room; rows++, base += stride) {
      if (!this.begins(bytes, start)) break
      let at = start
      this.empties = 0
      for (let cell = 0; cell <= last; cell++) {
        const role = roles[cell]
        let end = NONE
        if (role >= 0) end = readPlainNumber(bytes, at, marks[cell], waiting, base + role)
        else if (role === STAMP && isKnownDay) end = known.read(bytes, view, at, waiting, base + stride - 1)
        let byte = end < 0 ? 0 : bytes[end]
        if (byte !== delimiter && byte !== LINE_FEED && byte !== RETURN) {
          end = this.readCell(bytes, view, at, cell, base)
          if (end < 0) return rows
          byte = bytes[end]
        }
        if (cell === last) {
          if (byte === RETURN) byte = bytes[++end]
          if (byte !== LINE_FEED) return rows
        } else if (byte !== delimiter) return rows
        at = end + 1
      }
      if ((needsLook || this.empties > 0) && !this.isSound(bytes, start, base, firstLine + rows)) return rows
      start = at
      this.next = at
    }
    return rows
  }

  /** Reads a cell that is more than a bare number or stamp: the place behind it, or NONE. */
  private readCell(bytes: Uint8Array, view: DataView, at: number, cell: number, base: number): number {
    const { roles, delimiter, waiting, stride, known } = this
    const role = roles[cell]
    const byte = bytes[at]
    if (role >= 0) {
      const isEmpty = byte === delimiter || byte === LINE_FEED || byte === RETURN
      if (!isEmpty) return this.numbers.read(bytes, at, cell, waiting, base + role)
      if (role === stride - 1 || delimiter === SPACE) return NONE
      waiting[base + role] = Number.NaN
      this.empties++
      return at
    }
    if (role === UNUSED) return this.cells.plainEnd(bytes, at)
    if (!this.isKnownDay) return NONE
    const isQuoted = byte === QUOTE && delimiter !== SPACE
    const from = isQuoted ? at + 1 : at
    let end = NONE
    if (role === STAMP) end = known.read(bytes, view, from, waiting, base + stride - 1)
    else end = role === DATE ? known.passDate(bytes, from) : readMilliseconds(bytes, from, this.ms)
    if (!isQuoted || end < 0) return end
    return bytes[end] === QUOTE ? end + 1 : NONE
  }

  /** Counts a line's empty cells and adds its milliseconds; false for a line that the reader has to judge. */
  private isSound(bytes: Uint8Array, start: number, base: number, line: number): boolean {
    const { reader, roles, cells, waiting, stride, empties } = this
    if (this.isOpen && (empties > 0 || roles.includes(UNUSED))) {
      // A cell that nothing else reads may still tell the mark.
      const isUnused = (role: number, i: number) => role === UNUSED && cells.hasMark(bytes, i)
      if (empties > 0 || cells.locate(bytes, start) === NONE || roles.some(isUnused)) return false
    }
    // A row without a reading is the reader's to reject.
    if (empties > 0 && empties === reader.columns.length) return false
    for (let slot = 0; slot < reader.columns.length && empties > 0; slot++) {
      if (Number.isNaN(waiting[base + slot])) reader.columns[slot].countEmpty(line)
    }
    if (this.msAt !== NONE) waiting[base + stride - 1] += this.ms[0]
    return true
  }

  /** Reads a line of another minute or with cells that only their columns can read; false where it is not regular. */
  private readOddLine(bytes: Uint8Array, start: number, line: number): boolean {
    const { reader, roles, cells, odd, waiting, stride } = this
    const { froms, ends } = cells
    const next = this.begins(bytes, start) ? cells.locate(bytes, start) : NONE
    if (next === NONE) return false
    let base = this.waitingCount * stride
    let numbers = 0
    let odds = 0
    for (let cell = 0; cell < roles.length; cell++) {
      const role = roles[cell]
      if (role < 0) {
        if (this.isOpen && role === UNUSED && cells.hasMark(bytes, cell)) return false
        continue
      }
      if (this.numbers.read(bytes, froms[cell], cell, waiting, base + role) === ends[cell]) numbers++
      else if (this.isOpen || (reader.numericTime !== null && role === stride - 1)) return false
      else odd[odds++] = cell
    }
    if (numbers < (reader.numericTime === null ? 1 : 2)) return false
    const texts: string[] = []
    for (let i = 0; i < odds; i++) {
      const text = cells.text(bytes, odd[i])
      if (text === null) return false
      texts.push(text)
    }
    if (reader.stamps !== null && !this.readStamp(bytes, reader.stamps)) return false
    base = this.waitingCount * stride
    for (let i = 0; i < odds; i++) {
      const slot = roles[odd[i]]
      waiting[base + slot] = reader.columns[slot].read(texts[i], line)
    }
    this.next = next
    return true
  }

  /** Reads the row's stamp as text, so that the rows after it are known by it; false where it is no stamp. */
  private readStamp(bytes: Uint8Array, stamps: StampColumn): boolean {
    const { cells, known, stampAt, dateAt, msAt } = this
    const cell = cells.text(bytes, stampAt)
    const dateCell = dateAt === NONE ? null : cells.text(bytes, dateAt)
    const msCell = msAt === NONE ? null : cells.text(bytes, msAt)
    if (cell === null || (dateAt !== NONE && dateCell === null) || (msAt !== NONE && msCell === null))
      return false
    // While the mark is open a time like `20260302061530.250` is evidence too.
    const isEvidence = this.isOpen && [cell, dateCell ?? ''].some((text) => decimalEvidence(text) !== 'none')
    if (isEvidence || !stamps.read(cell, dateCell, msCell)) return false
    const { reading } = stamps
    // A date that still tells how dates are written is kept as text.
    if (reading !== null && !stamps.wantsText(reading.day)) {
      const isSameDay = this.isKnownDay && known.isDay(reading.day)
      if (!isSameDay) this.releaseBefore()
      const timeMs = reading.timeMs - Number(msCell ?? 0)
      const date = dateAt === NONE ? NO_BYTES : bytes.subarray(cells.froms[dateAt], cells.ends[dateAt])
      if (known.learn(bytes, cells.froms[stampAt], cell, date, { day: reading.day, timeMs })) {
        this.isKnownDay = true
        this.waiting[this.waitingCount * this.stride + this.stride - 1] = reading.timeMs
        return true
      }
    }
    if (this.isKnownDay) this.releaseBefore()
    this.isKnownDay = false
    stamps.keep(dateCell ?? cell)
    return true
  }

  /** Hands the rows that wait to their columns, except the one that is being read. */
  private releaseBefore(): void {
    const { waiting, stride, waitingCount } = this
    const row = waiting.slice(waitingCount * stride, (waitingCount + 1) * stride)
    this.release()
    waiting.set(row)
  }

  /** Hands the rows that wait to their columns. */
  private release(): void {
    const { reader, waiting, stride, waitingCount, known } = this
    if (waitingCount === 0) return
    const { columns, stamps, numericTime } = reader
    for (let slot = 0; slot < columns.length; slot++) {
      columns[slot].keepPlain({ values: waiting, first: slot, stride }, waitingCount)
    }
    const times = { values: waiting, first: columns.length, stride }
    if (this.isKnownDay && known.day !== null) stamps?.keepPlain(known.day, times, waitingCount)
    numericTime?.keepPlain(times, waitingCount)
    reader.countRows(waitingCount, this.waitingLine)
    this.waitingCount = 0
  }
}
