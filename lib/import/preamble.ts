import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_S } from './clock'
import { newStamp, readStamp, type Stamp } from './stamp'

/** What the lines above the table say of the time: a start, and the interval between rows. */
export interface PreambleTime {
  readonly date: Stamp | null
  /** Ms since midnight, or null. */
  readonly timeMs: number | null
  readonly intervalMs: number | null
  readonly line: number | null
}

const START =
  /start|begin|beginn|début|debut|inicio|inizio|date|datum|fecha|data\b|heure|hora\b|ora\b|time|zeit|trigger|record/i
const NOT_START =
  /\b(?:end|ende|stop|fin|fine|export|print|created|calib|kalib|certificate|firmware|download)/i
const INTERVAL =
  /interval|sampl|abtast|rate|takt|période|periode|période|muestreo|campionamento|échantillon|cadence|dt\b/i
const AMOUNT =
  /(\d{1,12}(?:[.,]\d{1,12})?)\s{0,4}(ms|msec|s|sec|sek|seconds?|sekunden|min|minutes?|hz|khz|1\/s|\/s)(?![a-z])/i
const STAMPS =
  /\d{4}[-/.]\d{1,2}[-/.]\d{1,2}(?:[T\s]+\d{1,2}:\d{1,2}(?::\d{1,2}(?:[.,]\d+)?)?(?:\s?[ap]m)?(?:Z|[+-]\d{2}:?\d{2})?)?|\d{1,2}[-/.]\d{1,2}[-/.](?:\d{4}|\d{2})(?:[,;\s]+\d{1,2}:\d{1,2}(?::\d{1,2}(?:[.,]\d+)?)?(?:\s?[ap]m)?)?|\d{1,2}[-\s.]+[a-zäéû]{3,9}\.?[-\s]+\d{4}(?:[,\s]+\d{1,2}:\d{1,2}(?::\d{1,2}(?:[.,]\d+)?)?)?|\d{1,2}:\d{1,2}:\d{1,2}(?:[.,]\d+)?(?:\s?[ap]m)?/gi

/** What a line says of the time stands near its beginning. */
const LONGEST_LINE = 400

function intervalOf(line: string): number | null {
  const amount = AMOUNT.exec(line)
  if (amount === null) return null
  const value = Number(amount[1].replace(',', '.'))
  if (!(value > 0)) return null
  const unit = amount[2].toLowerCase()
  if (unit === 'hz' || unit.endsWith('/s')) return MS_PER_S / value
  if (unit === 'khz') return 1 / value
  if (unit.startsWith('ms')) return value
  return value * (unit.startsWith('min') ? MS_PER_MINUTE : MS_PER_S)
}

/** Reads the preamble's lines; the first date or start named wins, an end or calibration date never does. */
export function readPreamble(lines: readonly string[]): PreambleTime {
  let date: Stamp | null = null
  let timeMs: number | null = null
  let intervalMs: number | null = null
  let line: number | null = null
  for (let i = 0; i < lines.length; i++) {
    const text = lines[i].slice(0, LONGEST_LINE)
    if (intervalMs === null && INTERVAL.test(text)) intervalMs = intervalOf(text)
    if (!START.test(text) || NOT_START.test(text)) continue
    for (const found of text.match(STAMPS) ?? []) {
      const stamp = newStamp()
      if (!readStamp(found.replace(';', ' ').trim(), stamp)) continue
      if (stamp.date !== 'none' && date === null) {
        date = stamp
        line = i + 1
        if (stamp.hasTime) timeMs = stamp.timeMs
      } else if (stamp.date === 'none' && timeMs === null && stamp.timeMs < 24 * MS_PER_HOUR) {
        timeMs = stamp.timeMs
      }
    }
  }
  return { date, timeMs, intervalMs, line }
}
