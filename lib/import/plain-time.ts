import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_S } from './clock'

const MS_DIGITS = 3
const COLON = 58
const POINT = 46
const COMMA = 44

/** Digits behind the decimal mark of a second, in ms. */
export function fractionMs(digits: string): number {
  return digits.length <= MS_DIGITS
    ? Number(digits) * 10 ** (MS_DIGITS - digits.length)
    : Number(digits) / 10 ** (digits.length - MS_DIGITS)
}

export function isDigit(code: number): boolean {
  return code >= 48 && code <= 57
}

/** Two digits at a place as a number, -1 where they are none. */
function pairAt(text: string, at: number): number {
  const tens = text.charCodeAt(at)
  const ones = text.charCodeAt(at + 1)
  return isDigit(tens) && isDigit(ones) ? (tens - 48) * 10 + ones - 48 : -1
}

/**
 * `HH:MM:SS` with up to three decimals from `at` to the end, which is how most rows end a dated
 * stamp; NaN for any other form, which is then read at leisure.
 */
export function plainTimeMs(text: string, at: number): number {
  const end = text.length
  if (end < at + 8 || end > at + 12 || text.charCodeAt(at + 2) !== COLON || text.charCodeAt(at + 5) !== COLON)
    return Number.NaN
  const hour = pairAt(text, at)
  const minute = pairAt(text, at + 3)
  const second = pairAt(text, at + 6)
  if (hour < 0 || hour > 24 || minute < 0 || minute > 59 || second < 0 || second > 60) return Number.NaN
  let ms = 0
  if (end > at + 8) {
    const mark = text.charCodeAt(at + 8)
    if ((mark !== POINT && mark !== COMMA) || end === at + 9) return Number.NaN
    for (let i = at + 9, worth = 100; i < end; i++, worth /= 10) {
      const code = text.charCodeAt(i)
      if (!isDigit(code)) return Number.NaN
      ms += (code - 48) * worth
    }
  }
  return hour * MS_PER_HOUR + minute * MS_PER_MINUTE + second * MS_PER_S + ms
}
