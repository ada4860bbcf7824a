import type { Understood } from '@/app/_jobs/task'
import { describeProblem } from '@/app/_words/describe'
import type { LogReading, LogRow } from '@/db/schema/logs'
import type { ChannelDeclaration } from '@/lib/contract/machine'
import { columnEvidence } from '@/lib/import/column-evidence'
import type { Survey } from '@/lib/import/survey'
import type { Inspection, SurveyAnswer } from './inspection-shapes'
import { questionsOf } from './questions'

const MS_PER_S = 1000

/** What an inspection knows beside the file itself. */
export interface InspectionContext {
  readonly fileName: string
  readonly reading: LogReading | null
  /** Channels that the machine or the reading declares. */
  readonly declared: readonly ChannelDeclaration[]
  readonly timeZone: string
  readonly now: Date
  /** The log already stored of the same content, if any. */
  readonly same: LogRow | null
  /** Stored logs that share its time. */
  readonly overlaps: readonly LogRow[]
}

/** What the top of a file shows, where its rows could not be understood. */
export function surveyAnswer(survey: Survey, reading: LogReading | null): SurveyAnswer {
  const unusedColumns = survey.columns.map(({ column }) => column)
  const columns = columnEvidence(survey, { channels: [], problems: [], unusedColumns }, [])
  return {
    layout: survey.layout,
    columns: columns.map((column) => ({ ...column, examples: [...column.examples] })),
    reading,
  }
}

const iso = (ms: number) => new Date(ms).toISOString()

/** The time that a recording takes up, or null where it has no date. */
export function spanOfUnderstood({ span }: Understood): { readonly from: Date; readonly to: Date } | null {
  const { startedAtMs, durationS } = span
  if (startedAtMs === null) return null
  return { from: new Date(startedAtMs), to: new Date(startedAtMs + durationS * MS_PER_S) }
}

/** What was understood of a file, with a sentence beside every problem and all that it leaves open. */
export function inspectionAnswer(
  survey: Survey,
  understood: Understood,
  context: InspectionContext,
): Inspection {
  const { span, report, preview } = understood
  const { durationS, sampleIntervalS, sampleCount } = span
  const { fileName, reading, declared, timeZone, now, same, overlaps } = context
  const when = spanOfUnderstood(understood)
  const columns = columnEvidence(survey, report, declared)
  return {
    fileName,
    startedAt: when?.from.toISOString() ?? null,
    endedAt: when?.to.toISOString() ?? null,
    durationS,
    sampleIntervalS,
    sampleCount,
    sameAs: same?.id ?? null,
    overlaps: overlaps.flatMap(({ id, fileName: name, startedAt, endedAt }) =>
      startedAt && endedAt
        ? [{ id, fileName: name, startedAt: iso(startedAt.getTime()), endedAt: iso(endedAt.getTime()) }]
        : [],
    ),
    layout: survey.layout,
    columns: columns.map((column) => ({ ...column, examples: [...column.examples] })),
    reading,
    questions: questionsOf({
      survey,
      understood,
      columns,
      reading: reading?.reading ?? {},
      timeZone,
      now,
    }),
    report: {
      ...report,
      parts: report.parts?.map(({ fileName, rowsRead }) => ({ fileName: fileName ?? '', rowsRead })),
      spreadsheet: report.spreadsheet && { ...report.spreadsheet, others: [...report.spreadsheet.others] },
      channels: [...report.channels],
      unusedColumns: [...report.unusedColumns],
      gaps: [...report.gaps],
      problems: report.problems.map((problem) => describeProblem(problem)),
    },
    preview,
  }
}
