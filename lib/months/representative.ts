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

function loggedMsIn({ startMs, endMs }: PlannedStretch, spans: readonly Span[]): number {
  let sum = 0
  for (const { fromMs, toMs } of spans)
    if (fromMs < endMs && toMs > startMs) sum += Math.min(toMs, endMs) - Math.max(fromMs, startMs)
  return sum
}

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
    const byWeekday = new Map<string, SeenMs>()
    for (const { fromMs, toMs } of spans)
      add(byWeekday, String(wallClock(fromMs, timeZone).weekday), 0, toMs - fromMs)
    return { weekdays: inOrder(byWeekday), shifts: [], notes }
  }
  const [byWeekday, byShift] = [new Map<string, SeenMs>(), new Map<string, SeenMs>()]
  let plannedLoggedMs = 0
  for (const stretch of planned) {
    const ms = stretch.endMs - stretch.startMs
    const logged = loggedMsIn(stretch, spans)
    plannedLoggedMs += logged
    add(byWeekday, String(stretch.day.weekday), ms, logged)
    add(byShift, stretch.shift, ms, logged)
  }
  const [weekdays, shifts] = [inOrder(byWeekday), inOrder(byShift)]
  const isUnseen = (one: SeenHours) => one.loggedHours < SEEN_SHARE * one.plannedHours
  const missing = weekdays.filter(isUnseen).map(({ name }) => name)
  if (missing.length > 0) note('weekday-not-logged', { weekdays: missing.join(' ') })
  for (const { name, plannedHours } of shifts.filter(isUnseen))
    note('shift-not-logged', { shift: name, plannedHours })
  const loggedMs = spans.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0)
  const outsideMs = loggedMs - plannedLoggedMs
  if (outsideMs > OUTSIDE_SHARE * loggedMs) note('outside-shifts', { hours: hours(outsideMs) })
  return { weekdays, shifts, notes }
}

interface SeenMs {
  planned: number
  logged: number
}

function add(sums: Map<string, SeenMs>, name: string, planned: number, logged: number): void {
  const sum = sums.get(name)
  if (sum) {
    sum.planned += planned
    sum.logged += logged
  } else sums.set(name, { planned, logged })
}

const inOrder = (sums: ReadonlyMap<string, SeenMs>): SeenHours[] =>
  [...sums]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, { planned, logged }]) => ({
      name,
      plannedHours: hours(planned),
      loggedHours: hours(logged),
    }))
