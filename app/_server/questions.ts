import type { Understood } from '@/app/_jobs/task'
import { describeProblem } from '@/app/_words/describe'
import type { Reading } from '@/lib/contract/reading'
import type { Problem } from '@/lib/contract/result'
import type { UnderstoodColumn } from '@/lib/import/column-evidence'
import type { Survey } from '@/lib/import/survey'
import { S_PER_HOUR } from '@/lib/units'
import type { Question } from './inspection-shapes'

const MS_PER_S = 1000
/** Clocks of loggers and servers may differ by so much without being in another zone. */
const CLOCK_SLACK_MS = S_PER_HOUR * 0.25 * MS_PER_S
/** No two zones are further apart; a recording further ahead has a wrong date. */
const ZONES_APART_MS = 26 * S_PER_HOUR * MS_PER_S

interface Inquiry {
  readonly survey: Survey
  readonly understood: Understood
  readonly columns: readonly UnderstoodColumn[]
  readonly reading: Reading
  readonly timeZone: string
  readonly now: Date
}

const text = (value: string | number | null | undefined): string | null =>
  value === null || value === undefined ? null : String(value)

const found = (problems: readonly Problem[], code: string) =>
  problems.find((problem) => problem.code === code)

/** Both readings of dates that may have the day or the month first. */
function dayOrder({ survey, understood }: Inquiry): Question[] {
  const problem = found(understood.report.problems, 'assumed-day-order')
  if (!problem) return []
  const { assumed, reading, other, otherReading } = problem.values
  const choices = [
    { value: String(assumed), reading: text(reading), likelier: true },
    { value: String(other), reading: text(otherReading), likelier: false },
  ]
  // As the file writes it: the first cell with a date's two marks.
  const example = survey.timeCells.find((cell) => /\d\D\d+\D\d/.test(cell)) ?? null
  const { line } = problem
  return [{ id: 'dayOrder', example, column: null, line, choices: choices.sort(byValue) }]
}

const byValue = (a: { value: string }, b: { value: string }) => (a.value < b.value ? -1 : 1)

/** Both readings of numbers whose only mark may be decimal or group thousands. */
function decimalMark({ survey, understood }: Inquiry): Question[] {
  const problem = found(understood.report.problems, 'assumed-decimal-mark')
  if (!problem) return []
  const open = survey.openNumber
  const asNumber = (mark: string): string | null => {
    if (!open) return null
    const isDecimal = open.text.includes(mark)
    return isDecimal ? open.text.replace(mark, '.') : open.text.replace(/[.,]/g, '')
  }
  const choices = [problem.values.assumed, problem.values.other].map((mark) => ({
    value: String(mark),
    reading: asNumber(String(mark)),
    likelier: mark === problem.values.assumed,
  }))
  const place = { line: problem.line, column: open?.column ?? null, example: open?.text ?? null }
  // As the number stands first, then with its mark left out.
  const isOwn = (mark: string) => open?.text.includes(mark) ?? mark === '.'
  choices.sort((a, b) => Number(isOwn(b.value)) - Number(isOwn(a.value)))
  return [{ id: 'decimalMark', ...place, choices }]
}

/** The span of the recording under either unit of a time column that names none, in seconds. */
function timeUnit({ understood }: Inquiry): Question[] {
  const problem = found(understood.report.problems, 'assumed-time-unit')
  if (!problem) return []
  const { durationS } = understood.span
  const { assumed } = problem.values
  const inMs = assumed === 'ms' ? durationS : durationS / MS_PER_S
  const choices = [
    { value: 'ms', reading: String(inMs), likelier: assumed === 'ms' },
    { value: 's', reading: String(inMs * MS_PER_S), likelier: assumed === 's' },
  ]
  return [{ id: 'timeUnit', example: null, column: problem.column, line: problem.line, choices }]
}

/** When it began, where the file does not say; `time-of-day` where only the day is missing. */
function startedAt({ survey, understood, reading }: Inquiry): Question[] {
  if (understood.span.startedAtMs !== null || reading.startedAt !== undefined) return []
  const clock = understood.report.dialect.timeFormat === 'time-of-day'
  const choices = [{ value: clock ? 'time-of-day' : 'elapsed', reading: null, likelier: false }]
  return [{ id: 'startedAt', example: survey.timeCells[0] ?? null, column: null, line: null, choices }]
}

/** Which clock the logger keeps, where the site's leaves an hour open or lies in the future. */
function timeZone({ understood, reading, timeZone, now }: Inquiry): Question[] {
  if (reading.timeZone !== undefined) return []
  const { startedAtMs, durationS } = understood.span
  const { timeFormat } = understood.report.dialect
  const knowsZone = timeFormat.startsWith('iso-zoned') || timeFormat.startsWith('epoch')
  const aheadMs = startedAtMs === null ? 0 : startedAtMs + durationS * MS_PER_S - now.getTime()
  const isAhead = !knowsZone && aheadMs > CLOCK_SLACK_MS && aheadMs < ZONES_APART_MS
  const problem = found(understood.report.problems, 'assumed-dst')
  if (!problem && !isAhead) return []
  const start = startedAtMs === null ? null : new Date(startedAtMs).toISOString()
  const choices = [{ value: timeZone, reading: start, likelier: true }]
  const example = isAhead ? 'ahead' : 'repeated-hour'
  return [{ id: 'timeZone', example, column: null, line: problem?.line ?? null, choices }]
}

/** Whether each further logger's clock is apart from the first one's, and by how much: never guessed where a person can be asked. */
function clockShift({ understood }: Inquiry): Question[] {
  const apart = understood.report.problems.filter(({ code }) => code === 'assumed-clock-shift')
  return apart.map((problem): Question => {
    const { shiftS, file, otherShiftsS } = problem.values
    const others = String(otherShiftsS ?? '')
      .split(' | ')
      .filter(Boolean)
    const choices = ['0', String(shiftS), ...others].map((value) => ({
      value,
      // Shifts that fit as well as each other are none of them likelier.
      reading: value === '0' ? null : value,
      likelier: value === String(shiftS) && others.length === 0,
    }))
    const example = describeProblem(problem).message
    return { id: 'clockShift', example, column: text(file), line: null, choices }
  })
}

/** Columns that only their values tell, or a pump pressure that no column is: a person looks at the table. */
function columnsOpen({ columns, understood, reading }: Inquiry): Question[] {
  if (reading.channels) return []
  const guessed = columns.filter(({ evidence }) => evidence?.confidence === 'guessed')
  const hasPump = columns.some(
    ({ channel }) => channel?.quantity === 'pressure' && channel.location === 'pump-outlet',
  )
  const inOrder = found(understood.report.problems, 'assumed-columns-in-order') !== undefined
  if (guessed.length === 0 && hasPump && !inOrder) return []
  const choices = guessed.map(({ column }) => ({ value: column, reading: null, likelier: true }))
  const example = hasPump ? (inOrder ? 'in-order' : null) : 'no-pump-pressure'
  return [{ id: 'columns', example, column: null, line: null, choices }]
}

/** What a file leaves open and nobody has answered, with its readings; never guessed where a person can be asked. */
export function questionsOf(inquiry: Inquiry): Question[] {
  return [dayOrder, decimalMark, timeUnit, startedAt, timeZone, clockShift, columnsOpen].flatMap((ask) =>
    ask(inquiry),
  )
}

/** A reading's part that is remembered of a layout: all but the start and the clocks of one recording. */
export function lasting({ startedAt, clockShifts: _, ...reading }: Reading): Reading {
  return startedAt === null ? { ...reading, startedAt } : reading
}
