const POINT = 46
const COMMA = 44
const ZERO = 48
const NINE = 57
const MINUS = 45
const PLUS = 43
const SPACE = 32
const QUOTE = 34
const LOWER_E = 101
const MS_DIGITS = 3
const CASE_BIT = 32
/** Decimal numerals of so many digits are whole numbers below 2^53, so that a double holds them exactly, … */
const EXACT_DIGITS = 15
/** of so many even below 2^31; */
const FEW_DIGITS = 9
/** it holds powers of ten up to here exactly, too. */
const EXACT_POWER = 22
const POWERS = Float64Array.from({ length: EXACT_POWER + 1 }, (_, n) => Number(`1e${n}`))

/** The byte of a decimal mark; null (still open) and a mark that splits cells match no byte. */
export function markByte(mark: '.' | ',' | null, delimiter: number): number {
  const byte = mark === '.' ? POINT : mark === ',' ? COMMA : -1
  return byte === delimiter ? -1 : byte
}

/**
 * Reads a numeral as loggers write nearly all (minus, up to nine digits, one decimal mark) into `out[slot]`, bit for bit what
 * `Number` gives: mantissa and power of ten are both exact doubles, so that their quotient is rounded once, as
 * IEEE 754 has it, and is the double nearest to the numeral.
 * @param bytes text with a byte behind the numeral that belongs to none
 * @returns the place behind it, or -1 where no such numeral stands
 */
export function readPlainNumber(
  bytes: Uint8Array,
  from: number,
  mark: number,
  out: Float64Array,
  slot: number,
): number {
  let at = from
  let byte = bytes[at]
  const negative = byte === MINUS
  if (negative) byte = bytes[++at]
  // Wraps beyond nine digits, which are then left: 32 bits are quicker than a double.
  let mantissa = 0
  const whole = at
  for (; byte >= ZERO && byte <= NINE; byte = bytes[++at]) mantissa = (mantissa * 10 + byte - ZERO) | 0
  let digits = at - whole
  let decimals = 0
  if (byte === mark) {
    const fraction = ++at
    for (byte = bytes[at]; byte >= ZERO && byte <= NINE; byte = bytes[++at])
      mantissa = (mantissa * 10 + byte - ZERO) | 0
    decimals = at - fraction
    digits += decimals
  }
  if (digits === 0 || digits > FEW_DIGITS) return -1
  const value = decimals > 0 ? mantissa / POWERS[decimals] : mantissa
  out[slot] = negative ? -value : value
  return at
}

/**
 * As `readPlainNumber`, of up to 15 digits, with blanks or a plus before the numeral and an exponent behind it: as long as the power of
 * ten is exact, quotient or product are still rounded once.
 */
export function readNumber(
  bytes: Uint8Array,
  from: number,
  mark: number,
  out: Float64Array,
  slot: number,
): number {
  let at = from
  while (bytes[at] === SPACE) at++
  const sign = bytes[at] === MINUS ? -1 : 1
  if (bytes[at] === MINUS || bytes[at] === PLUS) at++
  let mantissa = 0
  let digits = 0
  let decimals = -1
  for (; ; at++) {
    const digit = bytes[at] - ZERO
    if (digit >= 0 && digit <= 9) {
      mantissa = mantissa * 10 + digit
      digits++
      if (decimals >= 0) decimals++
    } else if (bytes[at] === mark && decimals < 0) decimals = 0
    else break
  }
  if (digits === 0 || digits > EXACT_DIGITS) return -1
  let power = decimals > 0 ? -decimals : 0
  if ((bytes[at] | CASE_BIT) === LOWER_E) {
    const exponentSign = bytes[++at]
    if (exponentSign === MINUS || exponentSign === PLUS) at++
    const first = at
    let exponent = 0
    for (; bytes[at] >= ZERO && bytes[at] <= NINE; at++) exponent = exponent * 10 + (bytes[at] - ZERO)
    if (at === first) return -1
    power += exponentSign === MINUS ? -exponent : exponent
    if (!(Math.abs(power) <= EXACT_POWER)) return -1
  }
  const size = power < 0 ? mantissa / POWERS[-power] : mantissa * POWERS[power]
  out[slot] = sign * size
  return at
}

function passBlanks(bytes: Uint8Array, from: number): number {
  let at = from
  while (bytes[at] === SPACE) at++
  return at
}

/** As `readNumber`, with blanks and a unit behind the numeral, all of it in quotation marks or not: the place behind. */
export function readWrappedNumber(
  bytes: Uint8Array,
  from: number,
  mark: number,
  out: Float64Array,
  slot: number,
  unit: Uint8Array,
): number {
  const isQuoted = bytes[from] === QUOTE
  const end = readNumber(bytes, isQuoted ? from + 1 : from, mark, out, slot)
  if (end < 0) return -1
  let at = passBlanks(bytes, end)
  if (unit.length > 0 && unit.every((byte, i) => bytes[at + i] === byte)) {
    at = passBlanks(bytes, at + unit.length)
  }
  if (!isQuoted) return at
  return bytes[at] === QUOTE ? at + 1 : -1
}

/** Reads up to three digits into `out[0]`: the place behind them, or -1. */
export function readMilliseconds(bytes: Uint8Array, from: number, out: Float64Array): number {
  const end = readPlainNumber(bytes, from, -1, out, 0)
  return end - from > MS_DIGITS || bytes[from] === MINUS ? -1 : end
}
