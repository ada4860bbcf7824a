/** How a cell's number is shown, as far as it is a time. */
export type Shown = 'number' | 'date' | 'time' | 'date-time' | 'duration'

/** Formats that every workbook has without naming them (ECMA-376 part 1, 18.8.30). */
const BUILT_IN: Readonly<Record<number, Shown>> = {
  14: 'date',
  15: 'date',
  16: 'date',
  17: 'date',
  18: 'time',
  19: 'time',
  20: 'time',
  21: 'time',
  22: 'date-time',
  45: 'time',
  46: 'duration',
  47: 'time',
}

/** What a format code shows: its letters outside of quoted text, escapes and brackets. */
export function shownBy(code: string): Shown {
  if (/^general$/i.test(code.trim())) return 'number'
  const [first] = code.split(';')
  const bare = first.replace(/"[^"]*"|\\.|_.|\*./g, '')
  if (/\[(?:h+|m+|s+)\]/i.test(bare)) return 'duration'
  const letters = bare.replace(/\[[^\]]*\]/g, '').replace(/am\/pm|a\/p/gi, 'h')
  const hasDate = /[yd]/i.test(letters)
  const hasTime = /[hs]/i.test(letters)
  if (hasDate) return hasTime ? 'date-time' : 'date'
  if (hasTime) return 'time'
  return /^[m\s./-]+$/i.test(letters) && /m/i.test(letters) ? 'date' : 'number'
}

/** @param own the workbook's own format codes by their numbers */
export function shownByNumber(id: number, own: ReadonlyMap<number, string>): Shown {
  const code = own.get(id)
  return code === undefined ? (BUILT_IN[id] ?? 'number') : shownBy(code)
}

/** Serial 25569 is 1970-01-01; a workbook that counts from 1904 is this many days behind. */
const DAYS_TO_1970 = 25_569
const DAYS_1900_TO_1904 = 1462
const TICKS_PER_S = 1e4
const TICKS_PER_DAY = 86_400 * TICKS_PER_S
const MS_PER_TICK = 0.1
/** 9999-12-31, the last day that spreadsheets know. */
const LAST_SERIAL = 2_958_465
/** Spreadsheets keep and show this many digits. */
const DIGITS = 15

const two = (value: number): string => String(value).padStart(2, '0')

/** Seconds of a day as 06:00:00, with their fraction where there is one. */
function clock(ticks: number): string {
  const seconds = Math.floor(ticks / TICKS_PER_S)
  const rest = ticks % TICKS_PER_S
  const fraction = rest === 0 ? '' : `.${String(rest).padStart(4, '0').replace(/0+$/, '')}`
  return `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}${fraction}`
}

/** A number that only reads one way: three decimals alone could be thousands. */
export function numberText(value: number): string {
  const text = String(Number(value.toPrecision(DIGITS)))
  return /\.\d{3}$/.test(text) ? `${text}0` : text
}

/**
 * A cell's number as text: dates as ISO 8601, times of day and durations as h:mm:ss, to a tenth of a millisecond.
 * @param is1904 whether the workbook counts its days from 1904
 */
export function cellText(value: number, shown: Shown, is1904: boolean): string {
  const serial = shown === 'duration' || shown === 'number' || !is1904 ? value : value + DAYS_1900_TO_1904
  const ticks = Math.round(serial * TICKS_PER_DAY)
  if (shown === 'number' || !(value >= 0 && serial <= LAST_SERIAL)) return numberText(value)
  if (shown === 'duration') return clock(ticks)
  const isTimeAlone = shown === 'time' && value < 1
  if (isTimeAlone) return clock(Math.round(value * TICKS_PER_DAY))
  const inDay = ticks % TICKS_PER_DAY
  const date = new Date((ticks - inDay - DAYS_TO_1970 * TICKS_PER_DAY) * MS_PER_TICK)
    .toISOString()
    .slice(0, 10)
  return shown === 'date' && inDay === 0 ? date : `${date} ${clock(inDay)}`
}
