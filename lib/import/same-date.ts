import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_S } from './clock'
import type { DayReading } from './stamp-column'

const COLON = 58
const POINT = 46
const COMMA = 44
const LETTER_T = 84
const SPACE = 32
const ZERO = 48
const SEPARATORS: readonly number[] = [45, 46, 47]
/** `2026-03-02T`, `02.03.2026 `: the date and what parts it from the time. */
const DATE_LENGTH = 11
/** … and `06:15:` after it. */
const MINUTE_LENGTH = 6
const KEY_LENGTH = DATE_LENGTH + MINUTE_LENGTH
/** With its seconds. */
const SHORTEST = 19
/** `+01:00` */
const LONGEST_ZONE = 6
const LETTER_Z = 90
const PLUS = 43
const MINUS = 45
/** Stands in the key for a minute that is not known. */
const NO_DIGIT = 0

const isDigit = (byte: number): boolean => byte >= ZERO && byte <= ZERO + 9

function pairAt(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]
  const ones = bytes[at + 1]
  return isDigit(tens) && isDigit(ones) ? (tens - ZERO) * 10 + ones - ZERO : -1
}

/** `HH:MM:` in ms, -1 for anything else. */
function readMinute(bytes: Uint8Array, from: number): number {
  if (bytes[from + 2] !== COLON || bytes[from + 5] !== COLON) return -1
  const hour = pairAt(bytes, from)
  const minute = pairAt(bytes, from + 3)
  if (hour < 0 || hour > 24 || minute < 0 || minute > 59) return -1
  return hour * MS_PER_HOUR + minute * MS_PER_MINUTE
}

/** `SS` with up to three decimals, added to `minuteMs`, into `out[slot]`: the place behind it, or -1. */
function readSeconds(
  bytes: Uint8Array,
  from: number,
  minuteMs: number,
  out: Float64Array,
  slot: number,
): number {
  const second = pairAt(bytes, from)
  if (second < 0 || second > 60) return -1
  let at = from + 2
  let ms = second * MS_PER_S
  if (bytes[at] === POINT || bytes[at] === COMMA) {
    if (!isDigit(bytes[++at])) return -1
    ms += (bytes[at] - ZERO) * 100
    if (isDigit(bytes[++at])) {
      ms += (bytes[at] - ZERO) * 10
      if (isDigit(bytes[++at])) ms += bytes[at++] - ZERO
    }
  }
  out[slot] = minuteMs + ms
  return at
}

/** True for nothing, `Z` and `+01:00`. */
function isZone(bytes: Uint8Array, from: number, end: number): boolean {
  if (from === end) return true
  if (end - from === 1) return bytes[from] === LETTER_Z
  if (end - from !== LONGEST_ZONE || (bytes[from] !== PLUS && bytes[from] !== MINUS)) return false
  return pairAt(bytes, from + 1) >= 0 && bytes[from + 3] === COLON && pairAt(bytes, from + 4) >= 0
}

/** True for ten bytes of digits with the same separator at both places. */
function isDate(bytes: Uint8Array, from: number): boolean {
  const yearFirst = SEPARATORS.includes(bytes[from + 4])
  const [first, second] = yearFirst ? [4, 7] : [2, 5]
  if (!SEPARATORS.includes(bytes[from + first]) || bytes[from + first] !== bytes[from + second]) return false
  for (let i = 0; i < DATE_LENGTH - 1; i++) {
    if (i !== first && i !== second && !isDigit(bytes[from + i])) return false
  }
  return true
}

/**
 * The date and zone of a stamp that was read as text, for the rows after it that differ in their time of day only, and the
 * minute of the last of those: next to all rows have both from the row before.
 */
export class SameDate {
  private readonly key = new Uint8Array(KEY_LENGTH)
  private readonly zone = new Uint8Array(LONGEST_ZONE)
  private zoneLength = 0
  private readonly spare = new Float64Array(1)
  private minuteMs = 0
  private known: DayReading | null = null

  get day(): DayReading | null {
    return this.known
  }

  /**
   * The time of day in ms of a stamp with the known date, into `out[slot]`: `HH:MM:SS` with up to three decimals, as
   * `plainTimeMs` has it.
   * @param bytes text with a byte behind the stamp that is no digit
   * @returns the place behind it, or -1 where the date or the form is another
   */
  readTime(bytes: Uint8Array, from: number, out: Float64Array, slot: number): number {
    const { key, zone, zoneLength } = this
    for (let i = 0; i < DATE_LENGTH; i++) if (bytes[from + i] !== key[i]) return -1
    const end = this.readClock(bytes, from + DATE_LENGTH, out, slot)
    if (zoneLength === 0 || end < 0) return end
    for (let i = 0; i < zoneLength; i++) if (bytes[end + i] !== zone[i]) return -1
    return end + zoneLength
  }

  /** The same for a time of day whose date stands in a cell of its own. */
  readClock(bytes: Uint8Array, from: number, out: Float64Array, slot: number): number {
    const { key } = this
    let same = DATE_LENGTH
    while (same < KEY_LENGTH && bytes[from + same - DATE_LENGTH] === key[same]) same++
    if (same < KEY_LENGTH) {
      const minuteMs = readMinute(bytes, from)
      if (minuteMs < 0) return -1
      this.minuteMs = minuteMs
      key.set(bytes.subarray(from, from + MINUTE_LENGTH), DATE_LENGTH)
    }
    return readSeconds(bytes, from + MINUTE_LENGTH, this.minuteMs, out, slot)
  }

  /** The place behind a cell of the known date, or -1. */
  passDate(bytes: Uint8Array, from: number): number {
    for (let i = 0; i < DATE_LENGTH - 1; i++) if (bytes[from + i] !== this.key[i]) return -1
    return from + DATE_LENGTH - 1
  }

  /** True for a date and a plain time in two cells. */
  isPlainPair(bytes: Uint8Array, date: number, dateEnd: number, time: number, timeEnd: number): boolean {
    if (dateEnd - date !== DATE_LENGTH - 1 || !isDate(bytes, date) || readMinute(bytes, time) < 0)
      return false
    return readSeconds(bytes, time + MINUTE_LENGTH, 0, this.spare, 0) === timeEnd
  }

  /** Makes the date of such cells the known one. */
  learnDate(bytes: Uint8Array, from: number, day: DayReading): void {
    this.key.set(bytes.subarray(from, from + DATE_LENGTH))
    this.key[DATE_LENGTH] = NO_DIGIT
    this.zoneLength = 0
    this.known = day
  }

  /** True for a stamp whose date can be learnt: whole date, a T or a blank, plain time, at most a zone up to `end`. */
  isPlain(bytes: Uint8Array, from: number, end: number): boolean {
    if (end - from < SHORTEST || !isDate(bytes, from)) return false
    const between = bytes[from + DATE_LENGTH - 1]
    if (between !== LETTER_T && between !== SPACE) return false
    if (readMinute(bytes, from + DATE_LENGTH) < 0) return false
    const timeEnd = readSeconds(bytes, from + KEY_LENGTH, 0, this.spare, 0)
    return timeEnd > 0 && isZone(bytes, timeEnd, end)
  }

  /** Makes date and zone of such a stamp, which ends before `end`, the known ones. */
  learn(bytes: Uint8Array, from: number, end: number, day: DayReading): void {
    this.learnDate(bytes, from, day)
    const timeEnd = readSeconds(bytes, from + KEY_LENGTH, 0, this.spare, 0)
    this.zoneLength = end - timeEnd
    this.zone.set(bytes.subarray(timeEnd, end))
  }
}
