import { markByte, readNumber, readPlainNumber } from './number-bytes'
import type { RowReader } from './row-reader'
import { DATE, MILLISECONDS, rolesOf, STAMP, UNUSED } from './row-roles'
import { SameDate } from './same-date'
import type { DayReading, StampColumn } from './stamp-column'
import type { Table } from './table'
import type { TakenLines } from './text-lines'
import type { TimePlan } from './time-column'

const LINE_FEED = 10
const RETURN = 13
const SPACE = 32
const QUOTE = 34
const COMMA = 44
const POINT = 46
const ZERO = 48
const NINE = 57
const FIRST_NOT_ASCII = 128
const LONGEST_CELL = 64
/** Rows that go to their columns at once: few enough to stay near the processor. */
const MOST_WAITING = 512

/** No line read; no such cell. */
const NONE = -1

interface Layout {
  readonly table: Table
  readonly time: TimePlan
  /** Column of each plan. */
  readonly columns: readonly number[]
}

interface OddRow {
  /** Numbers read, the time's among them. */
  readonly numbers: number
  /** Cells that are no number. */
  readonly odds: number
  /** True where the stamp has been read. */
  readonly hasTime: boolean
}

/**
 * Reads rows straight from bytes where nothing about them is unusual: as many cells as most rows have, no quotation
 * mark, a first byte that is a digit, at least one number among the mapped cells. Such rows need none of the reader's
 * judgement; their numbers go to its columns by the hundred without ever being text. A cell that is no plain number
 * (missing, a mark, a switch's word, too many digits) is read by its column as always; every other line is left to
 * the reader.
 */
export class RegularRows {
  /** Rows that wait for their columns, one after the other: the plans' numbers, then the time. */
  private readonly waiting: Float64Array
  private readonly stride: number
  private waitingCount = 0
  private waitingLine = 0
  private readonly last: number
  private readonly delimiter: number
  private readonly stampAt: number
  private readonly dateAt: number
  private readonly msAt: number
  private readonly froms: Int32Array
  private readonly ends: Int32Array
  private readonly odd: Int32Array
  private readonly sameDate = new SameDate()
  private sameDay: DayReading | null = null
  private mark = NONE
  private isOpen = false

  private constructor(
    private readonly reader: RowReader,
    private readonly roles: Int32Array,
    layout: Layout,
  ) {
    this.stride = layout.columns.length + 1
    this.waiting = new Float64Array(this.stride * MOST_WAITING)
    this.last = roles.length - 1
    this.delimiter = layout.table.delimiter.charCodeAt(0)
    this.stampAt = roles.indexOf(STAMP)
    this.dateAt = roles.indexOf(DATE)
    this.msAt = roles.indexOf(MILLISECONDS)
    this.froms = new Int32Array(roles.length)
    this.ends = new Int32Array(roles.length)
    this.odd = new Int32Array(roles.length)
  }

  /** Null for a table whose rows are never regular. */
  static of(reader: RowReader, layout: Layout): RegularRows | null {
    const { time } = layout
    if (reader.usualWidth < 2 || (time.kind === 'numeric' && time.dayColumn !== null)) return null
    if (reader.ownTimeMark !== null && reader.ownTimeMark !== reader.mark) return null
    const roles = rolesOf(time, layout.columns, reader.usualWidth)
    return roles === null ? null : new RegularRows(reader, roles, layout)
  }

  /** Reads whole lines from `from` on, the first of them the file's `line`th, up to one that is not regular. */
  take(bytes: Uint8Array, from: number, line: number): TakenLines {
    const { mark } = this.reader
    this.isOpen = mark === null
    this.mark = markByte(mark, this.delimiter)
    this.settleSameDay()
    // Every line before the last line feed ends in one, so that no cell is sought beyond the bytes.
    const lastFeed = bytes.lastIndexOf(LINE_FEED)
    let count = 0
    let at = from
    while (at <= lastFeed) {
      const next = this.readLine(bytes, at, line + count)
      if (next === NONE) break
      at = next
      count++
    }
    this.release()
    return { count, end: at }
  }

  /** Where the next line begins, or NONE where this one is not regular: then nothing has been kept of it. */
  private readLine(bytes: Uint8Array, start: number, line: number): number {
    const { roles, last, delimiter, waiting, stride, mark, sameDay } = this
    if (!(bytes[start] >= ZERO && bytes[start] <= NINE)) return NONE
    const base = this.waitingCount * stride
    let at = start
    let numbers = 0
    let odds = 0
    let hasTime = sameDay !== null
    for (let cell = 0; cell <= last; cell++) {
      const role = roles[cell]
      let end = NONE
      if (role >= 0) end = readPlainNumber(bytes, at, mark, waiting, base + role)
      else if (sameDay !== null && role !== UNUSED) {
        end = this.readSame(bytes, at, role, base + stride - 1)
        this.froms[cell] = at
        this.ends[cell] = end
      }
      let byte = end < 0 ? 0 : bytes[end]
      if (byte !== delimiter && byte !== LINE_FEED && byte !== RETURN) {
        end = role >= 0 ? readNumber(bytes, at, mark, waiting, base + role) : NONE
        byte = end < 0 ? 0 : bytes[end]
        if (byte !== delimiter && byte !== LINE_FEED && byte !== RETURN) {
          end = this.cellEnd(bytes, at)
          if (end === NONE) return NONE
          byte = bytes[end]
          this.froms[cell] = at
          this.ends[cell] = end
          if (role >= 0) this.odd[odds++] = cell
          if (role === STAMP && this.learnDay(bytes, at, end)) return this.readLine(bytes, start, line)
          if (role < UNUSED) hasTime = false
          if (this.isOpen && hasMark(bytes, at, end)) return NONE
        }
      }
      if (role >= 0) numbers++
      if ((byte === delimiter) !== cell < last) return NONE
      if (byte === RETURN) {
        if (bytes[end + 1] !== LINE_FEED) return NONE
        end++
      }
      at = end + 1
    }
    if (odds > 0 || (this.stampAt !== NONE && !hasTime)) {
      if (!this.readOdd(bytes, line, { numbers: numbers - odds, odds, hasTime })) return NONE
    }
    if (this.waitingCount === 0) this.waitingLine = line
    if (++this.waitingCount === MOST_WAITING) this.release()
    return at
  }

  /** Reads a cell of the time with the known date: the place behind it, or NONE. */
  private readSame(bytes: Uint8Array, at: number, role: number, slot: number): number {
    const { sameDate, waiting } = this
    if (role === DATE) return sameDate.passDate(bytes, at)
    if (role !== STAMP) return NONE
    return this.dateAt === NONE
      ? sameDate.readTime(bytes, at, waiting, slot)
      : sameDate.readClock(bytes, at, waiting, slot)
  }

  /** Where the cell ends that begins at `at`; NONE where only the line as text can tell. */
  private cellEnd(bytes: Uint8Array, at: number): number {
    const { delimiter } = this
    const isSpaced = delimiter === SPACE
    for (let i = at; ; i++) {
      const byte = bytes[i]
      if (byte === delimiter || byte === LINE_FEED || byte === RETURN) return isSpaced && i === at ? NONE : i
      if (byte === QUOTE) return NONE
      // Blanks of any kind part cells there.
      if (isSpaced && (byte < SPACE || byte >= FIRST_NOT_ASCII)) return NONE
    }
  }

  /** Hands the rows that wait to their columns. */
  private release(): void {
    const { reader, waiting, stride, waitingCount } = this
    if (waitingCount === 0) return
    const { columns, stamps, numericTime } = reader
    for (let slot = 0; slot < columns.length; slot++) {
      columns[slot].keepPlain({ values: waiting, first: slot, stride }, waitingCount)
    }
    const times = { values: waiting, first: columns.length, stride }
    if (this.sameDay !== null) stamps?.keepPlain(this.sameDay, times, waitingCount)
    numericTime?.keepPlain(times, waitingCount)
    reader.countRows(waitingCount, this.waitingLine)
    this.waitingCount = 0
  }

  /** Has the columns read those cells of the row that only they can; false where the row is not regular. */
  private readOdd(bytes: Uint8Array, line: number, { numbers, odds, hasTime }: OddRow): boolean {
    const { reader, waiting, roles, odd, froms, ends, stride } = this
    // While the mark is undecided every cell is evidence: the reader sees to that.
    if (this.isOpen) return false
    const timeSlot = reader.numericTime === null ? NONE : stride - 1
    for (let i = 0; i < odds; i++) {
      const cell = odd[i]
      if (roles[cell] === timeSlot || !isShortAscii(bytes, froms[cell], ends[cell])) return false
    }
    // A row without a reading is the reader's to reject.
    if (numbers < (timeSlot === NONE ? 1 : 2)) return false
    if (reader.stamps !== null && !hasTime && !this.keepStamp(bytes, reader.stamps)) return false
    const base = this.waitingCount * stride
    for (let i = 0; i < odds; i++) {
      const slot = roles[odd[i]]
      waiting[base + slot] = reader.columns[slot].read(textOf(bytes, froms[odd[i]], ends[odd[i]]), line)
    }
    return true
  }

  /** Reads the row's stamp as text into its column, ahead of its numbers; false where it is no stamp. */
  private keepStamp(bytes: Uint8Array, stamps: StampColumn): boolean {
    const { waiting, stride, stampAt, dateAt, msAt, froms, ends } = this
    const text = (cell: number): string | null =>
      cell !== NONE && isShortAscii(bytes, froms[cell], ends[cell])
        ? textOf(bytes, froms[cell], ends[cell])
        : null
    const [timeCell, dateCell, msCell] = [text(stampAt), text(dateAt), text(msAt)]
    if (timeCell === null || (dateAt !== NONE && dateCell === null) || (msAt !== NONE && msCell === null))
      return false
    if (!stamps.read(timeCell, dateCell, msCell)) return false
    if (this.sameDay !== null) {
      // The rows before it give their stamps when they are released: they go first.
      const base = this.waitingCount * stride
      const row = waiting.slice(base, base + stride)
      this.release()
      waiting.set(row)
      this.sameDay = null
    }
    stamps.keep(dateCell ?? timeCell)
    // Known from the next stretch on: this row's stamp is in its column already.
    const [date, time] = [froms[dateAt], froms[stampAt]]
    if (dateCell !== null && msAt === NONE) {
      const isPlain = this.sameDate.isPlainPair(bytes, date, ends[dateAt], time, ends[stampAt])
      if (isPlain) this.sameDate.learnDate(bytes, date, stamps.day)
    }
    return true
  }

  /** Makes a plain stamp's date the one that the next rows are held against; false for one that stays text. */
  private learnDay(bytes: Uint8Array, from: number, end: number): boolean {
    const { stamps } = this.reader
    if (stamps === null || this.dateAt !== NONE || this.msAt !== NONE) return false
    if (!this.sameDate.isPlain(bytes, from, end)) return false
    if (!stamps.read(textOf(bytes, from, end), null, null) || stamps.wantsText(stamps.day)) return false
    // The rows before it have another day.
    this.release()
    this.sameDate.learn(bytes, from, end, stamps.day)
    this.settleSameDay()
    return true
  }

  /** A date that still tells how dates are written is read as text. */
  private settleSameDay(): void {
    const { day } = this.sameDate
    const { stamps } = this.reader
    this.sameDay = day === null || stamps === null || stamps.wantsText(day) ? null : day
  }
}

function hasMark(bytes: Uint8Array, from: number, end: number): boolean {
  for (let i = from; i < end; i++) if (bytes[i] === POINT || bytes[i] === COMMA) return true
  return false
}

/** True for a cell that a character for each byte gives as text. */
function isShortAscii(bytes: Uint8Array, from: number, end: number): boolean {
  if (end - from > LONGEST_CELL) return false
  for (let i = from; i < end; i++) if (bytes[i] >= FIRST_NOT_ASCII) return false
  return true
}

/** A cell of ASCII as text. */
function textOf(bytes: Uint8Array, from: number, end: number): string {
  let text = ''
  for (let i = from; i < end; i++) text += String.fromCharCode(bytes[i])
  return text
}
