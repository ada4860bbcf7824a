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
const KEY_LENGTH = 11
const TIME_LENGTH = 8

const isDigit = (byte: number): boolean => byte >= ZERO && byte <= ZERO + 9

function pairAt(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]
  const ones = bytes[at + 1]
  return isDigit(tens) && isDigit(ones) ? (tens - ZERO) * 10 + ones - ZERO : -1
}

/**
 * `plainTimeMs` of bytes: `HH:MM:SS` with up to three decimals, in ms into `out[slot]`.
 * @param bytes text with a byte behind the time that is no digit
 * @returns the place behind it, or -1 for any other form
 */
function readPlainTime(bytes: Uint8Array, from: number, out: Float64Array, slot: number): number {
  if (bytes[from + 2] !== COLON || bytes[from + 5] !== COLON) return -1
  const hour = pairAt(bytes, from)
  const minute = pairAt(bytes, from + 3)
  const second = pairAt(bytes, from + 6)
  if (hour < 0 || hour > 24 || minute < 0 || minute > 59 || second < 0 || second > 60) return -1
  let at = from + TIME_LENGTH
  let ms = 0
  if (bytes[at] === POINT || bytes[at] === COMMA) {
    const first = ++at
    for (let worth = 100; isDigit(bytes[at]); worth /= 10) {
      if (worth < 1) return -1
      ms += (bytes[at++] - ZERO) * worth
    }
    if (at === first) return -1
  }
  out[slot] = hour * MS_PER_HOUR + minute * MS_PER_MINUTE + second * MS_PER_S + ms
  return at
}

/** True for ten bytes of digits with the same separator at both places. */
function isDate(bytes: Uint8Array, from: number): boolean {
  const yearFirst = SEPARATORS.includes(bytes[from + 4])
  const [first, second] = yearFirst ? [4, 7] : [2, 5]
  if (!SEPARATORS.includes(bytes[from + first]) || bytes[from + first] !== bytes[from + second]) return false
  for (let i = 0; i < KEY_LENGTH - 1; i++) {
    if (i !== first && i !== second && !isDigit(bytes[from + i])) return false
  }
  return true
}

/** The date of a stamp that was read as text, for the rows after it that differ in their time of day only. */
export class SameDate {
  private readonly key = new Uint8Array(KEY_LENGTH)
  private readonly spare = new Float64Array(1)
  private known: DayReading | null = null

  get day(): DayReading | null {
    return this.known
  }

  /**
   * The time of day in ms of a stamp with the known date, into `out[slot]`.
   * @returns the place behind it, or -1 where the date or the form is another
   */
  readTime(bytes: Uint8Array, from: number, out: Float64Array, slot: number): number {
    const { key } = this
    for (let i = 0; i < KEY_LENGTH; i++) if (bytes[from + i] !== key[i]) return -1
    return readPlainTime(bytes, from + KEY_LENGTH, out, slot)
  }

  /** True for a stamp whose date can be learnt: whole date, a T or a blank, plain time up to `end`. */
  isPlain(bytes: Uint8Array, from: number, end: number): boolean {
    if (end - from < KEY_LENGTH + TIME_LENGTH || !isDate(bytes, from)) return false
    const between = bytes[from + KEY_LENGTH - 1]
    if (between !== LETTER_T && between !== SPACE) return false
    return readPlainTime(bytes, from + KEY_LENGTH, this.spare, 0) === end
  }

  learn(bytes: Uint8Array, from: number, day: DayReading): void {
    this.key.set(bytes.subarray(from, from + KEY_LENGTH))
    this.known = day
  }
}
