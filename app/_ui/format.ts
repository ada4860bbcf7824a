import type { Estimate } from '@/lib/contract/estimate'
import { S_PER_HOUR } from '@/lib/units'

/** The one place where numbers become text. Locale is fixed so that server and browser write the same. */
const LOCALE = 'en-GB'
export const NO_DATA = 'no data'
const S_PER_MINUTE = 60
const MINUS = '−'

/** A way to write dates, by zone: making one takes a hundred times as long as writing with it, and tables write thousands. */
function dateFormat(parts: Intl.DateTimeFormatOptions): (timeZone: string) => Intl.DateTimeFormat {
  const byZone = new Map<string, Intl.DateTimeFormat>()
  return (timeZone) => {
    const format = byZone.get(timeZone) ?? new Intl.DateTimeFormat(LOCALE, { ...parts, timeZone })
    byZone.set(timeZone, format)
    return format
  }
}

const DAY = { day: 'numeric', month: 'short', year: 'numeric' } as const
const dayFormat = dateFormat(DAY)
const minuteFormat = dateFormat({ weekday: 'short', ...DAY, hour: '2-digit', minute: '2-digit' })
const monthFormat = dateFormat({ month: 'long', year: 'numeric' })

const byDecimals = new Map<number, Intl.NumberFormat>()

function fixed(value: number, decimals: number): string {
  let format = byDecimals.get(decimals)
  if (!format) {
    format = new Intl.NumberFormat(LOCALE, {
      minimumFractionDigits: Math.max(0, decimals),
      maximumFractionDigits: Math.max(0, decimals),
    })
    byDecimals.set(decimals, format)
  }
  const step = decimals < 0 ? 10 ** -decimals : 1
  const rounded = decimals < 0 ? Math.round(value / step) * step : value
  const text = format.format(rounded)
  return /[1-9]/.test(text) ? text.replace('-', MINUS) : text.replace('-', '')
}

/** Decimals that leave `digits` significant digits of `magnitude`; negative = rounding to tens, hundreds … */
export function decimalsFor(magnitude: number, digits: number): number {
  const size = Math.abs(magnitude)
  if (!(size > 0) || !Number.isFinite(size)) return 0
  return Math.min(6, digits - 1 - Math.floor(Math.log10(size)))
}

/** A bare number with three significant digits (counts and years go through `count`). */
export function number(value: number | null | undefined, digits = 3): string {
  if (value == null || !Number.isFinite(value)) return NO_DATA
  return fixed(value, Math.max(0, decimalsFor(value, digits)))
}

/** A tick of an axis: no more digits than it needs. */
export function tick(value: number): string {
  const text = number(Number(value.toPrecision(6)))
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}

const asTyped = new Intl.NumberFormat(LOCALE, { maximumSignificantDigits: 9 })

/** A number as somebody entered it, to its last digit. */
export function entered(value: number): string {
  return asTyped.format(value).replace('-', MINUS)
}

export function count(value: number | null | undefined): string {
  return value == null ? NO_DATA : fixed(value, 0)
}

/** A figure scaled or projected without an interval of its own: never more than `digits` significant digits. */
export function rough(value: number | null | undefined, digits = 3): string {
  if (value == null || !Number.isFinite(value)) return NO_DATA
  return fixed(value, decimalsFor(value, digits))
}

/** A reading or level: three significant digits at most, and none finer than the 95 % limit of its sensor. */
export function reading(value: number, limit: number): string {
  const decimals = limit > 0 ? Math.min(decimalsFor(limit, 1), decimalsFor(value, 3)) : decimalsFor(value, 3)
  return fixed(value, Math.max(decimals, decimalsFor(value, 1)))
}

export function percent(share: number | null | undefined, digits = 2): string {
  if (share == null || !Number.isFinite(share)) return NO_DATA
  const percentValue = share * 100
  return `${fixed(percentValue, Math.min(2, Math.max(0, decimalsFor(percentValue, digits))))} %`
}

/** The parts of an estimate as text: digits fit the half-width of its 95 % interval. */
export interface EstimateText {
  readonly value: string
  /** `± 180` where the interval is about even, `(1,100 to 1,500)` where it is not, empty where exact. */
  readonly interval: string
}

export function estimateParts(estimate: Estimate, scale = 1): EstimateText {
  const [value, low, high] = [estimate.value, estimate.low, estimate.high].map((x) => x * scale)
  const half = (high - low) / 2
  if (!(half > Math.abs(value) * 1e-9)) return { value: number(value), interval: '' }
  const leading = half / 10 ** Math.floor(Math.log10(half))
  const decimals = decimalsFor(half, leading < 3 ? 2 : 1)
  const even = Math.abs(value - low - (high - value)) <= 0.3 * (high - low)
  return {
    value: fixed(value, decimals),
    interval: even ? `± ${fixed(half, decimals)}` : `(${fixed(low, decimals)} to ${fixed(high, decimals)})`,
  }
}

/** `1,240 ± 180 kWh`, or `1,240 (1,190 to 1,600) kWh`, or `no data`. */
export function estimate(value: Estimate | null | undefined, unit = '', scale = 1): string {
  if (!value) return NO_DATA
  const parts = estimateParts(value, scale)
  return [parts.value, parts.interval, unit].filter(Boolean).join(' ')
}

/** Elapsed time as `45 s`, `12 min 05 s`, `7 h 30 min`, `3 d 4 h`. */
export function duration(seconds: number | null | undefined): string {
  if (seconds == null || !Number.isFinite(seconds)) return NO_DATA
  if (seconds < S_PER_MINUTE) return `${number(seconds, 3)} s`
  const whole = Math.round(seconds)
  const hours = Math.floor(whole / S_PER_HOUR)
  const minutes = Math.floor((whole % S_PER_HOUR) / S_PER_MINUTE)
  if (hours === 0) return `${minutes} min ${String(whole % S_PER_MINUTE).padStart(2, '0')} s`
  if (hours < 72) return `${hours} h ${String(minutes).padStart(2, '0')} min`
  return `${Math.floor(hours / 24)} d ${hours % 24} h`
}

const MONTHS_PER_YEAR = 12

/** A time to wait in words: `under a month`, `5 months`, `2.4 years`. */
export function years(value: number): string {
  const months = value * MONTHS_PER_YEAR
  if (months < 1) return 'under a month'
  if (Math.round(months) === 1) return 'a month'
  return value < 2 ? `${fixed(months, 0)} months` : `${fixed(value, 1)} years`
}

/** Elapsed `h:mm:ss` from the first sample, for logs without a date. */
export function elapsed(seconds: number): string {
  const whole = Math.floor(seconds)
  const two = (n: number) => String(n).padStart(2, '0')
  const fraction = seconds - whole
  const tail = fraction > 1e-3 ? fraction.toFixed(2).slice(1) : ''
  return `${Math.floor(whole / S_PER_HOUR)}:${two(Math.floor((whole % S_PER_HOUR) / S_PER_MINUTE))}:${two(whole % S_PER_MINUTE)}${tail}`
}

/** `Tue 3 Mar 2026, 06:00` in the site's zone. */
export function dateTime(iso: string | Date | null | undefined, timeZone: string): string {
  if (!iso) return 'no date in the log'
  const date = typeof iso === 'string' ? new Date(iso) : iso
  return minuteFormat(timeZone).format(date)
}

/** `3 Mar 2026` in the site's zone. */
export function dateOnly(iso: string | Date | null | undefined, timeZone: string): string {
  if (!iso) return 'no date'
  const date = typeof iso === 'string' ? new Date(iso) : iso
  return dayFormat(timeZone).format(date)
}

/** `2026-03` as `March 2026`. */
export function monthName(month: string): string {
  const [year, index] = month.split('-').map(Number)
  return monthFormat('UTC').format(new Date(Date.UTC(year, index - 1, 1)))
}

/** File sizes in decimal units. */
export function bytes(size: number): string {
  if (size < 1e3) return `${size} B`
  if (size < 1e6) return `${fixed(size / 1e3, 0)} kB`
  return `${fixed(size / 1e6, 1)} MB`
}
