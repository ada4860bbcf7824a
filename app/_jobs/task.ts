import type { EnvelopeChunk } from '@/db/queries/envelope-chunks'
import type { NewMonthTotals } from '@/db/queries/month-totals'
import type { SampleChunk } from '@/db/queries/sample-chunks'
import type { StoredChannel } from '@/db/schema/logs'
import type { Correction } from '@/lib/contract/corrections'
import type { Machine } from '@/lib/contract/machine'
import type { Answers } from '@/lib/contract/reading'
import type { Analysis } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { ErrorValues } from '@/lib/errors'
import type { Grounds } from '@/lib/explain/grounds'
import type { ImportReport } from '@/lib/import/report'
import type { Survey } from '@/lib/import/survey'
import type { LeftOut } from '@/lib/months/calendar'
import type { LogMonth } from '@/lib/months/log-month'
import type { LogEvidence } from '@/lib/proof/evidence'
import type { StoredLog } from './unpack-log'

/** A file on this machine's disk, as it arrived. */
export interface ReceivedFile {
  readonly path: string
  /** Length on disk. */
  readonly diskBytes: number
  readonly isPacked: boolean
  readonly fileName: string
  /** Further files of the same recording. */
  readonly further?: readonly ReceivedFile[]
}

/** All files of a recording. */
export const filesOf = <F extends { readonly further?: readonly F[] }>(file: F): readonly F[] => [
  file,
  ...(file.further ?? []),
]

/** What an analysis is made with beside the samples. */
export interface ComputingInputs {
  readonly machine: Machine
  readonly site: Site
  readonly corrections: readonly Correction[]
  /** Time that other recordings of the machine account for in its months; left out: none. */
  readonly leftOut?: readonly LeftOut[]
}

/** Samples and envelopes to store: an import's of time, logged channels and account, a new analysis' of the account. */
export interface Rows {
  readonly samples: SampleChunk[]
  readonly envelope: EnvelopeChunk[]
}

/** Work for a thread of its own: no database, files and samples in, rows to store and what they amount to out. */
export type Task =
  | ({
      readonly kind: 'import'
      readonly file: ReceivedFile
      readonly answers?: Answers
    } & ComputingInputs)
  | ({ readonly kind: 'analyse'; readonly stored: StoredLog } & ComputingInputs)
  | {
      readonly kind: 'inspect'
      readonly file: ReceivedFile
      readonly machine: Machine | null
      readonly timeZone: string
      readonly answers?: Answers
    }
  | { readonly kind: 'survey'; readonly file: ReceivedFile }

/** What the samples and the set-up give: the same for a fresh import and for an analysis done anew. */
export interface Computed {
  readonly analysis: Analysis
  readonly grounds: Grounds
  readonly evidence: LogEvidence
  readonly months: NewMonthTotals[]
  readonly logMonths: LogMonth[]
}

/** When a recording was made and how long it is. */
export interface Span {
  readonly startedAtMs: number | null
  readonly durationS: number
  readonly sampleIntervalS: number
  readonly sampleCount: number
}

export interface Imported {
  readonly span: Span
  readonly report: ImportReport
  readonly channels: StoredChannel[]
  readonly computed: Computed
}

/** A channel at a glance, in its logged unit; null where a stretch holds no value. */
export interface PreviewChannel {
  readonly column: string
  readonly unit: string
  readonly min: (number | null)[]
  readonly max: (number | null)[]
  readonly mean: (number | null)[]
}

/** A file as its rows are understood. */
export interface Understood {
  readonly span: Span
  readonly report: ImportReport
  readonly preview: { readonly startS: number[]; readonly channels: PreviewChannel[] }
}

/** What would be made of a file. Where its rows cannot be understood as they are, why, beside what its top shows. */
export type Inspected = { readonly survey: Survey } & (
  | { readonly understood: Understood; readonly refusal: null }
  | { readonly understood: null; readonly refusal: { readonly code: string; readonly values: ErrorValues } }
)

export interface TaskResults {
  readonly import: Imported
  readonly analyse: Computed
  readonly inspect: Inspected
  readonly survey: Survey
}

export type TaskResult<T extends Task> = TaskResults[T['kind']]

/** Takes rows as they are made, before the result; ends when it has room for more. */
export type OnRows = (rows: Rows) => Promise<void>

/** Takes an import whose options are still to be replayed; ends when it is stored. */
export type OnAccounted = (imported: Imported) => Promise<void>

export type Stage = 'reading' | 'analysing'
/** @param progress share of the stage that is done, 0 to 1 */
export type OnProgress = (stage: Stage, progress: number) => void
/** The same where a log is brought up to date, up to the storing. */
export type OnRefresh = (stage: Stage | 'storing', progress: number) => void
