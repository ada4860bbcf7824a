export type DecimalMark = '.' | ','

const POINT = 46
const COMMA = 44
const ZERO = 48
const NINE = 57
const MINUS = 45
const PLUS = 43
/** Up to here a decimal numeral is mantissa / 10^n with both exact, so the quotient is correctly rounded. */
const EXACT_DIGITS = 15
const POWERS = Float64Array.from({ length: EXACT_DIGITS + 1 }, (_, n) => 10 ** n)

const GROUPED_POINT = /^([+-]?)(\d{1,3}(?:([,'’\u0020\u00a0\u202f])\d{3})(?:\3\d{3})*)(\.\d+)?$/
const GROUPED_COMMA = /^([+-]?)(\d{1,3}(?:([.'’\u0020\u00a0\u202f])\d{3})(?:\3\d{3})*)(,\d+)?$/
const PLAIN = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i

/** Thousands marks, exponents, the typographic minus: everything the fast path leaves. */
function parseIrregular(text: string, mark: DecimalMark): number {
  const cell = text.trim().replace(/^[−–]/, '-')
  if (cell === '') return Number.NaN
  const plain = mark === ',' ? cell.replace(',', '.') : cell
  if (PLAIN.test(plain) && !(mark === ',' && cell.includes('.'))) {
    const value = Number(plain)
    return Number.isFinite(value) ? value : Number.NaN
  }
  const grouped = (mark === '.' ? GROUPED_POINT : GROUPED_COMMA).exec(cell)
  if (grouped === null) return Number.NaN
  const whole = grouped[2].replaceAll(grouped[3], '')
  return Number(`${grouped[1]}${whole}${grouped[4]?.replace(',', '.') ?? ''}`)
}

/**
 * A cell as a number under the file's decimal mark; NaN where it is none. Bit for bit what `Number`
 * gives for the same numeral with a point. Strict: `1,5` under a decimal point is no number.
 */
export function parseNumber(text: string, mark: DecimalMark): number {
  const markCode = mark === '.' ? POINT : COMMA
  const end = text.length
  let at = 0
  let negative = false
  const first = text.charCodeAt(0)
  if (first === MINUS || first === PLUS) {
    negative = first === MINUS
    at = 1
  }
  let mantissa = 0
  let digits = 0
  let decimals = -1
  for (; at < end; at++) {
    const code = text.charCodeAt(at)
    if (code >= ZERO && code <= NINE) {
      mantissa = mantissa * 10 + (code - ZERO)
      digits++
      if (decimals >= 0) decimals++
    } else if (code === markCode && decimals < 0) decimals = 0
    else return parseIrregular(text, mark)
  }
  if (digits === 0 || digits > EXACT_DIGITS) return parseIrregular(text, mark)
  const value = decimals > 0 ? mantissa / POWERS[decimals] : mantissa
  return negative ? -value : value
}
