import { MS_PER_MINUTE, MS_PER_S } from './clock'
import type { DayReading, StampReading } from './stamp-column'

const POINT = 46
const COMMA = 44
const ZERO = 48
const MS_DIGITS = 3
const MOST_DECIMALS = 9
const LONGEST_SECOND = 60
const POWERS = Float64Array.from({ length: MOST_DECIMALS + 1 }, (_, n) => Number(`1e${n}`))
/** All that stands before a stamp's seconds, the seconds, their decimals, and a half of the day or a zone behind them. */
const FORM = /^([^:]*\d:\d{1,2}:)(\d{1,2})(?:[.,](\d{1,9}))?((?:\s?[ap]\.?m\.?|Z|[+-]\d{2}:?\d{2})? *)$/i
const WORD = 4
const LONGEST_HEAD = 48

const isDigit = (byte: number): boolean => byte >= ZERO && byte <= ZERO + 9

/**
 * The minute of the row before, as it was read from text. Next to all rows share it, so that of their stamps only the seconds
 * are read: what stands before and behind them is compared, whichever way a logger writes dates, halves of a day and zones.
 */
export class KnownStamp {
  /** What the rows' date says; null while none is known. */
  day: DayReading | null = null
  private minuteMs = 0
  private length = 0
  private readonly head = new Uint8Array(LONGEST_HEAD)
  private readonly headView = new DataView(this.head.buffer)
  /** The same four by four, the last four of them once more where they are no multiple of four. */
  private readonly words = new Int32Array(LONGEST_HEAD / WORD)
  private readonly places = new Int32Array(LONGEST_HEAD / WORD)
  private wordCount = 0
  private tail: Uint8Array = new Uint8Array(0)
  private date: Uint8Array = new Uint8Array(0)
  private mayHaveMicroseconds = true
  /** A comma before a second's decimals, where commas do not part the cells. */
  private readonly comma: number

  constructor(delimiter: number) {
    this.comma = delimiter === COMMA ? POINT : COMMA
  }

  /**
   * The time of day in ms of a stamp in the known minute into `out[slot]`, to the last bit as `readStamp` has it.
   * @param bytes text that `view` shows too, with a line end behind the stamp
   * @returns the place behind it, or -1 where the minute or the form is another
   */
  read(bytes: Uint8Array, view: DataView, from: number, out: Float64Array, slot: number): number {
    const { words, places, wordCount, tail } = this
    let at = from + this.length
    if (at >= bytes.length) return -1
    for (let i = 0; i < wordCount; i++) {
      if (view.getInt32(from + places[i], true) !== words[i]) return -1
    }
    if (!isDigit(bytes[at])) return -1
    let second = bytes[at++] - ZERO
    if (isDigit(bytes[at])) second = second * 10 + bytes[at++] - ZERO
    if (second > LONGEST_SECOND) return -1
    let ms = this.minuteMs + second * MS_PER_S
    if (bytes[at] === POINT || bytes[at] === this.comma) {
      const first = ++at
      let fraction = 0
      for (; isDigit(bytes[at]); at++) fraction = (fraction * 10 + bytes[at] - ZERO) | 0
      const digits = at - first
      if (digits === MS_DIGITS) ms += fraction
      else if (digits > 0 && digits < MS_DIGITS) ms += fraction * POWERS[MS_DIGITS - digits]
      else if (digits > 0 && digits <= MOST_DECIMALS && this.mayHaveMicroseconds) {
        ms += fraction / POWERS[digits - MS_DIGITS]
      } else return -1
    }
    for (let i = 0; i < tail.length; i++) if (bytes[at + i] !== tail[i]) return -1
    out[slot] = ms
    return at + tail.length
  }

  /** The place behind a cell of the known date, or -1. */
  passDate(bytes: Uint8Array, from: number): number {
    const { date } = this
    for (let i = 0; i < date.length; i++) if (bytes[from + i] !== date[i]) return -1
    return date.length === 0 ? -1 : from + date.length
  }

  /** True where rows of this date can wait beside those of the known one. */
  isDay(day: DayReading): boolean {
    const { day: known } = this
    return (
      known !== null &&
      known.date === day.date &&
      known.twelveHour === day.twelveHour &&
      Object.is(known.dayFirstMs, day.dayFirstMs) &&
      Object.is(known.monthFirstMs, day.monthFirstMs) &&
      Object.is(known.zoneMinutes, day.zoneMinutes)
    )
  }

  /**
   * Makes a stamp's minute the known one.
   * @param at where the cell begins
   * @param date bytes of the date's own cell, or none
   * @returns false for a form whose seconds do not stand for themselves
   */
  learn(
    bytes: Uint8Array,
    at: number,
    cell: string,
    date: Uint8Array,
    { day, timeMs }: StampReading,
  ): boolean {
    const form = FORM.exec(cell)
    if (form === null) return false
    const { length } = form[1]
    if (length < WORD || length > LONGEST_HEAD) return false
    const second = Number(form[2])
    const decimals = form[3] ?? ''
    const decimalsMs = decimals === '' ? 0 : Number(decimals) / 10 ** (decimals.length - MS_DIGITS)
    const minutes = Math.round((timeMs - second * MS_PER_S - decimalsMs) / MS_PER_MINUTE)
    // What else the text made of it (a lost hour) is none of this form's.
    if (Math.abs(minutes * MS_PER_MINUTE + second * MS_PER_S + decimalsMs - timeMs) > 1e-3) return false
    this.day = day
    this.minuteMs = minutes * MS_PER_MINUTE
    this.length = length
    this.head.set(bytes.subarray(at, at + length))
    this.wordCount = Math.ceil(length / WORD)
    for (let i = 0; i < this.wordCount; i++) {
      this.places[i] = Math.min(i * WORD, length - WORD)
      this.words[i] = this.headView.getInt32(this.places[i], true)
    }
    const end = at + cell.length
    this.tail = bytes.slice(end - form[4].length, end)
    this.date = date.slice()
    // The text adds date, time and zone in this order: beyond whole milliseconds another order rounds otherwise.
    this.mayHaveMicroseconds = Number.isNaN(day.zoneMinutes) || day.zoneMinutes === 0
    return true
  }
}
