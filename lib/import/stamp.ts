import { MS_PER_DAY, MS_PER_HOUR, MS_PER_MINUTE, MS_PER_S } from './clock'
import { fractionMs, isDigit, plainTimeMs } from './plain-time'
import type { TimeForm } from './time-forms'

/** One time cell. Days are local ms since 1970-01-01; NaN where that reading gives no date. */
export interface Stamp {
  /** `either`: two small numbers whose order only the whole column can tell. */
  date: 'none' | 'sure' | 'either'
  dayFirstMs: number
  monthFirstMs: number
  hasTime: boolean
  /** Ms since midnight; where the hour was lost, ms since the hour. */
  timeMs: number
  hourLost: boolean
  twelveHour: boolean
  /** Minutes east of UTC, NaN where the cell names no zone. */
  zoneMinutes: number
}

const YMD = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?=$|[T\s,_]|[-:]\d{1,2}:)/
const BASIC = /^((?:19|20)\d{2})(\d{2})(\d{2})(?=$|T|\s|_|-\d{4}|\d{4,6}(?:[.,]\d{1,9})?$|\d{9}$)/
const PAIR = /^(\d{1,2})\s?([-/.])\s?(\d{1,2})\s?\2\s?(\d{4}|\d{2})(?=$|[T\s,_]|[-:]\d{1,2}:)/
const DAY_NAMED =
  /^(?:[a-zäöü]{2,10}\.?,?\s+)?(\d{1,2})[-\s./]*([a-zäéûôàèç]{3,10})\.?[-\s,./]*(\d{4}|\d{2})(?=$|[T\s,_]|[-:]\d{1,2}:)/i
const MONTH_NAMED =
  /^(?:[a-z]{3,9},\s*)?([a-z]{3,9})\.?[-\s]*(\d{1,2})(?:st|nd|rd|th)?,?[-\s]+(\d{4})(?=$|[T\s,])/i
const TIME =
  /^(\d{1,5}):(\d{1,2})(?::(\d{1,2}))?(?:([.,:])(\d{1,9}))?\s*(?:([ap])(?:\.?\s?m\.?)?(?![a-z]))?\s*(Z|[a-z]{2,4}|(?:UTC|GMT)?\s?[+-]\d{1,2}(?::?\d{2})?)?$/i
const BASIC_TIME = /^(\d{2})(\d{2})(\d{2})?(?:[.,](\d{1,9}))?(Z|[+-]\d{2}:?\d{2})?$/
const DOTTED_TIME = /^(\d{1,2})\.(\d{2})\.(\d{2})(?:([.,])(\d{1,9}))?$/
/** `06h15`, `06 h 15 min 30,5 s`. */
const LETTERED_TIME =
  /^(\d{1,2})\s?h\s?(\d{1,2})(?:\s?(?:m(?:n|in)?\.?|:|')\s?(?:(\d{1,2})(?:([.,])(\d{1,9}))?\s?(?:s(?:ec)?\.?|")?)?)?$/i
/** Whole days before a clock: `1 06:15:30`, `1d 06:15:30`, `1.06:15:30`. */
const DAYS_AHEAD =
  /^(\d{1,4})(?:\s?(?:d|days?|tage?|j|jours?|g|giorni?)\.?,?\s*|\s+|\.)(?=\d{1,2}:\d{1,2}:\d{1,2})/i
/** `Mon Mar 2 06:15:30 2026` and with a zone before the year. */
const YEAR_LAST =
  /^(?:[a-z]{3},?\s+)?([a-z]{3,4})\s+(\d{1,2})\s+(\d{1,2}:\d{2}:\d{2}\S*)\s+(?:([a-z]{3,4})\s+)?(\d{4})$/i
const HOUR_LOST = /^(\d{1,2}):(\d{1,2})[.,](\d{1,9})$/

/** First letters of month names in English, German, French, Spanish and Italian. */
const MONTHS: readonly RegExp[] = [
  /^(?:jan|jän|ene|gen)/i,
  /^f[eé][bv]/i,
  /^m(?:ar|är|rz)/i,
  /^(?:ap|av|abr)/i,
  /^(?:ma[iyg])/i,
  /^(?:jun|juin|giu)/i,
  /^(?:jul|juil|lug)/i,
  /^(?:au|ao|ag)/i,
  /^s[e]/i,
  /^(?:o[ckt]|ott)/i,
  /^no/i,
  /^(?:d[eéi])/i,
]

/** Zone letters of Europe and North America, minutes east of UTC (common practice). */
const ZONES: Readonly<Record<string, number>> = {
  Z: 0, UTC: 0, GMT: 0, WET: 0, BST: 60, WEST: 60, CET: 60, MEZ: 60, CEST: 120, MESZ: 120, EET: 120, EEST: 180,
  EST: -300, EDT: -240, CST: -360, CDT: -300, MST: -420, MDT: -360, PST: -480, PDT: -420,
} // biome-ignore format: a table

const SPACE = 32
const LETTER_T = 84

const DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

function dayMs(year: number, month: number, day: number): number {
  if (month < 1 || month > 12 || day < 1 || day > DAYS[month - 1]) return Number.NaN
  const full = year < 100 ? year + (year < 70 ? 2000 : 1900) : year
  if (month === 2 && day === 29 && (full % 4 !== 0 || (full % 100 === 0 && full % 400 !== 0)))
    return Number.NaN
  return Date.UTC(full, month - 1, day)
}

interface DatePart {
  readonly length: number
  readonly date: 'sure' | 'either'
  readonly dayFirstMs: number
  readonly monthFirstMs: number
}

function sure(match: RegExpExecArray, ms: number): DatePart | null {
  return Number.isNaN(ms) ? null : { length: match[0].length, date: 'sure', dayFirstMs: ms, monthFirstMs: ms }
}

function readDate(text: string): DatePart | null {
  const ymd = YMD.exec(text)
  if (ymd !== null) return sure(ymd, dayMs(Number(ymd[1]), Number(ymd[3]), Number(ymd[4])))
  const pair = PAIR.exec(text)
  if (pair !== null) {
    const [a, b, year] = [Number(pair[1]), Number(pair[3]), Number(pair[4])]
    const dayFirstMs = dayMs(year, b, a)
    const monthFirstMs = dayMs(year, a, b)
    if (Number.isNaN(dayFirstMs) && Number.isNaN(monthFirstMs)) return null
    return { length: pair[0].length, date: 'either', dayFirstMs, monthFirstMs }
  }
  const basic = BASIC.exec(text)
  if (basic !== null) return sure(basic, dayMs(Number(basic[1]), Number(basic[2]), Number(basic[3])))
  const named = DAY_NAMED.exec(text)
  if (named !== null) {
    const month = MONTHS.findIndex((name) => name.test(named[2])) + 1
    return sure(named, dayMs(Number(named[3]), month, Number(named[1])))
  }
  const us = MONTH_NAMED.exec(text)
  if (us !== null) {
    const month = MONTHS.findIndex((name) => name.test(us[1])) + 1
    return sure(us, dayMs(Number(us[3]), month, Number(us[2])))
  }
  return null
}

/** Zone suffix as minutes east of UTC, NaN for none, null for letters that are no zone. */
function readZone(text: string | undefined): number | null {
  if (text === undefined) return Number.NaN
  const offset = /^(?:UTC|GMT)?\s?([+-])(\d{1,2})(?::?(\d{2}))?$/i.exec(text)
  if (offset !== null) {
    const minutes = Number(offset[2]) * (MS_PER_HOUR / MS_PER_MINUTE) + Number(offset[3] ?? 0)
    return offset[1] === '-' ? -minutes : minutes
  }
  return ZONES[text.toUpperCase()] ?? null
}

function readTime(text: string, out: Stamp, alone: boolean): boolean {
  const lost = HOUR_LOST.exec(text)
  if (lost !== null) {
    const [minute, second] = [Number(lost[1]), Number(lost[2])]
    if (minute > 59 || second > 59) return false
    out.timeMs = minute * MS_PER_MINUTE + second * MS_PER_S + fractionMs(lost[3])
    out.hourLost = true
    return true
  }
  const days = alone ? DAYS_AHEAD.exec(text) : null
  if (days !== null) {
    if (!readTime(text.slice(days[0].length), out, false)) return false
    out.timeMs += Number(days[1]) * MS_PER_DAY
    return true
  }
  const match =
    TIME.exec(text) ?? basicTime(text, alone) ?? LETTERED_TIME.exec(text) ?? DOTTED_TIME.exec(text)
  if (match === null) return false
  let hour = Number(match[1])
  const minute = Number(match[2])
  const second = Number(match[3] ?? 0)
  if (minute > 59 || second > 60 || ((!alone || !text.includes(':')) && hour > 24)) return false
  if (match[6] !== undefined) {
    if (hour < 1 || hour > 12) return false
    hour = (hour % 12) + (/p/i.test(match[6]) ? 12 : 0)
    out.twelveHour = true
  }
  if (match[4] === ':' && match[3] === undefined) return false
  const fraction = match[5] === undefined ? 0 : fractionMs(match[5])
  const zone = readZone(match[7])
  if (zone === null) return false
  out.zoneMinutes = zone
  out.timeMs = hour * MS_PER_HOUR + minute * MS_PER_MINUTE + second * MS_PER_S + fraction
  return true
}

function basicTime(text: string, alone: boolean): RegExpExecArray | null {
  if (alone) return null
  const match = BASIC_TIME.exec(/^\d{9}$/.test(text) ? `${text.slice(0, 6)}.${text.slice(6)}` : text)
  if (match === null) return null
  const [whole, hour, minute, second, fraction, zone] = match
  const groups = [whole, hour, minute, second, '.', fraction, undefined, zone]
  return Object.assign(match, groups)
}

let cachedText = ''
let cachedDate: DatePart | null = null

/** The date part repeats from row to row: it is read once per change. */
function readDateCached(text: string): DatePart | null {
  if (cachedDate !== null && text.startsWith(cachedText) && !isDigit(text.charCodeAt(cachedText.length))) {
    return cachedDate
  }
  const date = readDate(text)
  if (date !== null) {
    cachedText = text.slice(0, date.length)
    cachedDate = date
  }
  return date
}

export function newStamp(): Stamp {
  return {
    date: 'none',
    dayFirstMs: Number.NaN,
    monthFirstMs: Number.NaN,
    hasTime: false,
    timeMs: 0,
    hourLost: false,
    twelveHour: false,
    zoneMinutes: Number.NaN,
  }
}

function yearFirst([, month, day, time, zone = '', year]: RegExpExecArray): string {
  return `${month} ${day}, ${year} ${time} ${zone}`.trimEnd()
}

/** Reads a cell of a column known to hold times of day (`06.15.30`, `061530`) into `out`. */
export function readTimeOfDay(cell: string, form: TimeForm, out: Stamp): boolean {
  clear(out)
  out.hasTime = readTime(
    form === 'compact' ? cell.replace(/^\d+/, (digits) => digits.padStart(6, '0')) : cell,
    out,
    false,
  )
  return out.hasTime
}

function clear(out: Stamp): void {
  out.date = 'none'
  out.dayFirstMs = Number.NaN
  out.monthFirstMs = Number.NaN
  out.hasTime = false
  out.timeMs = 0
  out.hourLost = false
  out.twelveHour = false
  out.zoneMinutes = Number.NaN
}

/**
 * Reads a trimmed cell that holds a date, a time of day or both into `out`.
 * @returns false where the cell is none of them
 */
export function readStamp(cell: string, out: Stamp): boolean {
  clear(out)
  const date = readDateCached(cell)
  if (date === null) {
    const turned = YEAR_LAST.exec(cell)
    if (turned !== null) return readStamp(yearFirst(turned), out)
    out.hasTime = readTime(cell, out, true)
    return out.hasTime
  }
  out.date = date.date
  out.dayFirstMs = date.dayFirstMs
  out.monthFirstMs = date.monthFirstMs
  const between = cell.charCodeAt(date.length)
  if (between === LETTER_T || between === SPACE) {
    const plainMs = plainTimeMs(cell, date.length + 1)
    if (!Number.isNaN(plainMs)) {
      out.timeMs = plainMs
      out.hasTime = true
      return true
    }
  }
  const rest = cell.slice(date.length).replace(/^(?:T|,?\s+|[,_:-])/i, '')
  if (rest === '') return true
  out.hasTime = readTime(rest, out, false)
  return out.hasTime
}
