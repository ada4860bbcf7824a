import type { ShiftCalendar } from '@/lib/contract/shift-calendar'
import type { Site } from '@/lib/contract/site'
import { rowKey } from '../row-key'
import { needed, typedPart } from './tariff-draft'

type Shift = ShiftCalendar['days'][number]['shifts'][number]

export interface ShiftDraft {
  readonly key: string
  readonly name: string
  readonly fromHour: string
  readonly toHour: string
}

/** Shifts that begin on days of a kind. */
export interface WorkDayDraft {
  readonly key: string
  readonly weekdays: readonly number[]
  readonly dayTypes: readonly string[]
  readonly shifts: readonly ShiftDraft[]
}

/** Dates with other shifts; none is a shutdown. */
export interface ExceptionDraft {
  readonly key: string
  readonly from: string
  readonly until: string
  readonly note: string
  readonly shifts: readonly ShiftDraft[]
}

export interface CalendarDraft {
  readonly key: string
  readonly name: string
  readonly from: string
  readonly until: string
  /** Ids or names of machines; none: all that no other calendar names. */
  readonly machines: readonly string[]
  readonly days: readonly WorkDayDraft[]
  readonly exceptions: readonly ExceptionDraft[]
}

const WORKDAYS = [1, 2, 3, 4, 5]

export const newShift = (): ShiftDraft => ({ key: rowKey(), name: '', fromHour: '6', toHour: '14' })
export const newWorkDay = (): WorkDayDraft => ({
  key: rowKey(),
  weekdays: WORKDAYS,
  dayTypes: [],
  shifts: [newShift()],
})
export const newException = (): ExceptionDraft => ({
  key: rowKey(),
  from: '',
  until: '',
  note: '',
  shifts: [],
})
export const newCalendar = (): CalendarDraft => ({
  key: rowKey(),
  name: '',
  from: '',
  until: '',
  machines: [],
  days: [newWorkDay()],
  exceptions: [],
})

const shiftDraftsOf = (shifts: readonly Shift[]): ShiftDraft[] =>
  shifts.map(({ name, fromHour, toHour }, i) => ({
    key: String(i),
    name: name ?? '',
    fromHour: String(fromHour),
    toHour: String(toHour),
  }))

export const calendarDraftsOf = (site: Site): CalendarDraft[] =>
  (site.calendars ?? []).map((calendar, i) => ({
    key: `${i} ${calendar.name}`,
    name: calendar.name,
    from: calendar.from ?? '',
    until: calendar.until ?? '',
    machines: calendar.machines ?? [],
    days: calendar.days.map(({ weekdays, dayTypes, shifts }, k) => ({
      key: String(k),
      weekdays,
      dayTypes,
      shifts: shiftDraftsOf(shifts),
    })),
    exceptions: calendar.exceptions.map(({ from, until, note, shifts }, k) => ({
      key: `${k} ${from}`,
      from,
      until: until ?? '',
      note: note ?? '',
      shifts: shiftDraftsOf(shifts),
    })),
  }))

const shiftJsonOf = ({ name, fromHour, toHour }: ShiftDraft) => ({
  ...typedPart('name', name),
  fromHour: needed(fromHour),
  toHour: needed(toHour),
})

export const calendarJsonOf = (draft: CalendarDraft): unknown => ({
  name: draft.name.trim(),
  ...typedPart('from', draft.from),
  ...typedPart('until', draft.until),
  ...(draft.machines.length > 0 ? { machines: draft.machines } : {}),
  days: draft.days.map(({ weekdays, dayTypes, shifts }) => ({
    weekdays,
    dayTypes,
    shifts: shifts.map(shiftJsonOf),
  })),
  exceptions: draft.exceptions.map(({ from, until, note, shifts }) => ({
    from: from.trim(),
    ...typedPart('until', until),
    ...typedPart('note', note),
    shifts: shifts.map(shiftJsonOf),
  })),
})
