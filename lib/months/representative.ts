import { wallClock } from '@/lib/economics/local-time'
import type { PlannedStretch } from '@/lib/economics/planned-time'
import { S_PER_HOUR } from '@/lib/units'

const MS_PER_S = 1000
/** Below this share of its planned hours a shift or weekday counts as not logged (common practice, no source). */
const SEEN_SHARE = 0.02
/** Above it recorded time outside of all shifts is worth a word (common practice, no source). */
const OUTSIDE_SHARE = 0.1
/** With fewer days the spread between days is a guess (common practice, no source). */
const FEW_DAYS = 3

export const REPRESENTATIVE_CODES = [
  'few-days',
  'weekday-not-logged',
  'shift-not-logged',
  'outside-shifts',
  'no-calendar',
  'recorded-twice',
] as const

/** What a month's logs do not stand for. */
export interface RepresentativeNote {
  readonly code: (typeof REPRESENTATIVE_CODES)[number]
  readonly values: Readonly<Record<string, string | number>>
}

/** Hours planned and recorded of one weekday or shift. */
export interface SeenHours {
  readonly name: string
  readonly plannedHours: number
  readonly loggedHours: number
}

export interface Representative {
  readonly weekdays: readonly SeenHours[]
  readonly shifts: readonly SeenHours[]
  readonly notes: readonly RepresentativeNote[]
}

interface Span {
  readonly fromMs: number
  readonly toMs: number
}

const hours = (ms: number) => ms / MS_PER_S / S_PER_HOUR
const overlapMs = (a: Span, b: { startMs: number; endMs: number }) =>
  Math.max(0, Math.min(a.toMs, b.endMs) - Math.max(a.fromMs, b.startMs))

/**
 * Holds recorded time against planned time, by weekday and shift.
 * @param spans recorded time that counts, epoch ms
 * @param planned null where no calendar says when the machine is meant to run: weekdays recorded are told alone
 */
export function representative(
  spans: readonly Span[],
  planned: readonly PlannedStretch[] | null,
  days: number,
  leftOutS: number,
  timeZone: string,
): Representative {
  const notes: RepresentativeNote[] = []
  const note = (code: RepresentativeNote['code'], values: RepresentativeNote['values'] = {}) =>
    notes.push({ code, values })
  if (days < FEW_DAYS) note('few-days', { days })
  if (leftOutS > 0) note('recorded-twice', { hours: leftOutS / S_PER_HOUR })
  if (planned === null) {
    note('no-calendar')
    const weekdays = gather(
      spans.map((span) => ({
        name: String(wallClock(span.fromMs, timeZone).weekday),
        planned: 0,
        logged: span.toMs - span.fromMs,
      })),
    )
    return { weekdays, shifts: [], notes }
  }
  const seen = planned.map((stretch) => ({
    stretch,
    planned: stretch.endMs - stretch.startMs,
    logged: spans.reduce((sum, span) => sum + overlapMs(span, stretch), 0),
  }))
  const weekdays = gather(seen.map((one) => ({ ...one, name: String(one.stretch.day.weekday) })))
  const shifts = gather(seen.map((one) => ({ ...one, name: one.stretch.shift })))
  const isUnseen = (one: SeenHours) => one.loggedHours < SEEN_SHARE * one.plannedHours
  const missing = weekdays.filter(isUnseen).map(({ name }) => name)
  if (missing.length > 0) note('weekday-not-logged', { weekdays: missing.join(' ') })
  for (const { name, plannedHours } of shifts.filter(isUnseen))
    note('shift-not-logged', { shift: name, plannedHours })
  const loggedMs = spans.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0)
  const outsideMs = loggedMs - seen.reduce((sum, one) => sum + one.logged, 0)
  if (outsideMs > OUTSIDE_SHARE * loggedMs) note('outside-shifts', { hours: hours(outsideMs) })
  return { weekdays, shifts, notes }
}

function gather(parts: readonly { name: string; planned: number; logged: number }[]): SeenHours[] {
  return [...new Set(parts.map(({ name }) => name))].sort().map((name) => {
    const own = parts.filter((one) => one.name === name)
    return {
      name,
      plannedHours: hours(own.reduce((sum, one) => sum + one.planned, 0)),
      loggedHours: hours(own.reduce((sum, one) => sum + one.logged, 0)),
    }
  })
}
