import type { ChannelDeclaration } from '@/lib/contract/machine'
import type { Problem } from '@/lib/contract/result'
import type { FullTrace, Gap, Trace } from '@/lib/samples/trace'

/** How a file was read: decided once per file from whole columns. */
export interface Dialect {
  readonly encoding: string
  readonly delimiter: string
  readonly decimalMark: '.' | ','
  readonly headerLine: number | null
  readonly firstDataLine: number
  readonly timeFormat: string
}

/** Where in a spreadsheet a recording stands. */
export interface SheetSource {
  readonly sheet: string
  /** Other sheets that hold a recording and were not read. */
  readonly others: readonly string[]
}

/** What was understood of one file of several. */
export type PartReport = Pick<
  ImportReport,
  'fileName' | 'rowsRead' | 'rowsUsed' | 'rowsRejected' | 'dialect' | 'spreadsheet'
>

/** What was understood of a recording, kept with it for ever. */
export interface ImportReport {
  /** Absent in a report of several joined files. */
  readonly fileName?: string
  readonly rowsRead: number
  readonly rowsUsed: number
  readonly rowsRejected: number
  readonly dialect: Dialect
  /** The files of a joined recording, as they were given. */
  readonly parts?: readonly PartReport[]
  /** Where the file is a spreadsheet. */
  readonly spreadsheet?: SheetSource
  readonly channels: readonly ChannelDeclaration[]
  /** Header cells that no channel uses. */
  readonly unusedColumns: readonly string[]
  /** Declared columns that the file does not have, where it is one of several. */
  readonly absentColumns?: readonly string[]
  readonly gaps: readonly Gap[]
  readonly problems: readonly Problem[]
}

export interface ReadLog {
  readonly trace: Trace
  readonly report: ImportReport
}

/** The same with every number in an array. */
export interface FullLog extends ReadLog {
  readonly trace: FullTrace
}
