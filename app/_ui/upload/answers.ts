import type { Inspection, Question } from '@/app/_server/inspection-shapes'
import { isSameLayout, type Layout } from '@/lib/contract/layout'
import type { Reading } from '@/lib/contract/reading'
import { type ColumnDraft, channelsOf, draftFault, hasPumpPressure } from './column-draft'

/** What a person has said of a layout's files so far: one answer serves them all. */
export interface LayoutDraft extends Pick<Reading, 'dayOrder' | 'decimalMark' | 'timeUnit' | 'timeZone'> {
  readonly machineId: string
  readonly layout: Layout
  /** Null: as they were understood. */
  readonly columns: readonly ColumnDraft[] | null
  /** Whether a person looked the columns over. */
  readonly columnsRight: boolean
  /** Whether it is kept for the next file of this layout. */
  readonly remember: boolean
}

/** What a person has said of one file alone. */
export interface FileAnswers {
  /** As in a reading; undefined: not yet said. */
  readonly startedAt?: string | null
  /** Of several files of one recording: s to be added to a logger's stamps, by the file's name. */
  readonly clockShifts?: Readonly<Record<string, number>>
  /** A stored log whose place it takes, null for none; undefined: not yet said. */
  readonly replaces?: string | null
}

export const emptyDraft = (machineId: string, layout: Layout): LayoutDraft => ({
  machineId,
  layout,
  columns: null,
  columnsRight: false,
  remember: true,
})

export function draftFor(
  drafts: readonly LayoutDraft[],
  machineId: string,
  layout: Layout,
): LayoutDraft | undefined {
  return drafts.find((draft) => draft.machineId === machineId && isSameLayout(draft.layout, layout))
}

/** The reading that a draft asks for, without what it leaves as it is. */
export function readingOf(draft: LayoutDraft | undefined): Reading {
  if (!draft) return {}
  const { dayOrder, decimalMark, timeUnit, timeZone, columns } = draft
  return {
    ...(dayOrder ? { dayOrder } : {}),
    ...(decimalMark ? { decimalMark } : {}),
    ...(timeUnit ? { timeUnit } : {}),
    ...(timeZone ? { timeZone } : {}),
    ...(columns ? { channels: channelsOf(columns) } : {}),
  }
}

export const hasSaid = (draft: LayoutDraft | undefined): boolean => Object.keys(readingOf(draft)).length > 0

/** A value's JSON with keys in order: what comes back from the server has them in another. */
function ordered(value: unknown): string {
  return JSON.stringify(value, (_key, one: unknown) =>
    typeof one === 'object' && one !== null && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))
      : one,
  )
}

/** Whether a file was read with all that is said of its layout now. */
export function isReadSo(readWith: Reading | undefined, draft: LayoutDraft | undefined): boolean {
  const said = readingOf(draft)
  return ordered({ ...readWith, ...said }) === ordered(readWith ?? {})
}

/** Something an import waits for. */
export type OpenQuestion = Question['id'] | 'overlap'

function isAnswered(question: Question, draft: LayoutDraft | undefined, file: FileAnswers): boolean {
  if (question.id === 'startedAt') return file.startedAt !== undefined && file.startedAt !== ''
  if (question.id === 'clockShift') return file.clockShifts?.[question.column ?? ''] !== undefined
  if (!draft) return false
  if (question.id !== 'columns') return draft[question.id] !== undefined
  return draft.columnsRight && columnsFault(draft.columns) === null
}

/** Why columns cannot be taken as a person has them, or null. */
export function columnsFault(columns: readonly ColumnDraft[] | null): 'no-pump-pressure' | 'ends' | null {
  if (!columns) return null
  if (columns.some((draft) => draftFault(draft) !== null)) return 'ends'
  return hasPumpPressure(columns) ? null : 'no-pump-pressure'
}

/** What an inspected file still leaves open, in the order it is asked. */
export function openQuestions(
  inspection: Pick<Inspection, 'questions' | 'overlaps' | 'sameAs'>,
  draft: LayoutDraft | undefined,
  file: FileAnswers,
): OpenQuestion[] {
  const open = inspection.questions.filter((question) => !isAnswered(question, draft, file))
  const asks: OpenQuestion[] = open.map(({ id }) => id)
  // Columns that a person changed without being asked must still make sense.
  if (!asks.includes('columns') && columnsFault(draft?.columns ?? null) !== null) asks.push('columns')
  const overlaps = inspection.overlaps.length > 0 && !inspection.sameAs
  if (overlaps && file.replaces === undefined) asks.push('overlap')
  return asks
}

/** What goes with an import: what is remembered, and over it what was said for this file. */
export interface Sending {
  readonly layout: string | null
  readonly reading: Reading
  readonly replaces: string | null
}

/** A start that is not known lasts for a layout as long as nobody says otherwise; a date does not. */
export function lastingReading(
  remembered: Reading,
  draft: LayoutDraft | undefined,
  file: FileAnswers,
): Reading {
  const unknown = file.startedAt === null ? { startedAt: null } : {}
  return { ...remembered, ...readingOf(draft), ...unknown }
}

export function sendingOf(
  remembered: { readonly id: string; readonly reading: Reading } | null,
  draft: LayoutDraft | undefined,
  file: FileAnswers,
): Sending {
  const start = file.startedAt === undefined ? {} : { startedAt: file.startedAt }
  return {
    layout: remembered?.id ?? null,
    reading: {
      ...readingOf(draft),
      ...start,
      ...(file.clockShifts ? { clockShifts: file.clockShifts } : {}),
    },
    replaces: file.replaces ?? null,
  }
}
