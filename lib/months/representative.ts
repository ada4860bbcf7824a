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

/** What the stretches of a plan add up to: one plan is that of many machines. */
interface Plan {
  readonly weekdays: PlannedSums
  readonly shifts: PlannedSums
}

interface PlannedSums {
  /** In order. */
  readonly names: readonly string[]
  readonly plannedMs: readonly number[]
  /** By stretch: the place of its name. */
  readonly placeOf: readonly number[]
}

function plannedSums(
  planned: readonly PlannedStretch[],
  nameOf: (stretch: PlannedStretch) => string,
): PlannedSums {
  const names = [...new Set(planned.map(nameOf))].sort()
  const placeOf = planned.map((stretch) => names.indexOf(nameOf(stretch)))
  const plannedMs = new Array<number>(names.length).fill(0)
  for (const [i, { startMs, endMs }] of planned.entries()) plannedMs[placeOf[i]] += endMs - startMs
  return { names, plannedMs, placeOf }
}

const plans = new WeakMap<readonly PlannedStretch[], Plan>()

function planOf(planned: readonly PlannedStretch[]): Plan {
  const known = plans.get(planned)
  if (known) return known
  const weekdays = plannedSums(planned, ({ day }) => String(day.weekday))
  const plan = { weekdays, shifts: plannedSums(planned, ({ shift }) => shift) }
  plans.set(planned, plan)
  return plan
}

/** Recorded time within each stretch, ms. */
function loggedMs(planned: readonly PlannedStretch[], spans: readonly Span[]): number[] {
  const logged = new Array<number>(planned.length).fill(0)
  let first = 0
  for (const { fromMs, toMs } of spans) {
    // Both are in order: what ends before this span ends before those that follow.
    while (first < planned.length && planned[first].endMs <= fromMs) first += 1
    for (let i = first; i < planned.length && planned[i].startMs < toMs; i++) {
      const { startMs, endMs } = planned[i]
      logged[i] += Math.min(toMs, endMs) - Math.max(fromMs, startMs)
    }
  }
  return logged
}

function seenOf({ names, plannedMs, placeOf }: PlannedSums, logged: readonly number[]): SeenHours[] {
  const sums = new Array<number>(names.length).fill(0)
  for (let i = 0; i < logged.length; i++) sums[placeOf[i]] += logged[i]
  return names.map((name, i) => ({
    name,
    plannedHours: hours(plannedMs[i]),
    loggedHours: hours(sums[i]),
  }))
}

/**
 * Holds recorded time against planned time, by weekday and shift.
 * @param spans recorded time that counts, epoch ms, in order
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
    const byWeekday = new Map<string, number>()
    for (const { fromMs, toMs } of spans) {
      const name = String(wallClock(fromMs, timeZone).weekday)
      byWeekday.set(name, (byWeekday.get(name) ?? 0) + toMs - fromMs)
    }
    const weekdays = [...byWeekday].sort(([a], [b]) => (a < b ? -1 : 1))
    return {
      weekdays: weekdays.map(([name, ms]) => ({ name, plannedHours: 0, loggedHours: hours(ms) })),
      shifts: [],
      notes,
    }
  }
  const logged = loggedMs(planned, spans)
  const plan = planOf(planned)
  const [weekdays, shifts] = [seenOf(plan.weekdays, logged), seenOf(plan.shifts, logged)]
  const plannedLoggedMs = logged.reduce((sum, ms) => sum + ms, 0)
  const isUnseen = (one: SeenHours) => one.loggedHours < SEEN_SHARE * one.plannedHours
  const missing = weekdays.filter(isUnseen).map(({ name }) => name)
  if (missing.length > 0) note('weekday-not-logged', { weekdays: missing.join(' ') })
  for (const { name, plannedHours } of shifts.filter(isUnseen))
    note('shift-not-logged', { shift: name, plannedHours })
  const allMs = spans.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0)
  const outsideMs = allMs - plannedLoggedMs
  if (outsideMs > OUTSIDE_SHARE * allMs) note('outside-shifts', { hours: hours(outsideMs) })
  return { weekdays, shifts, notes }
}
