import type { Machine, SensorEvidence } from '@/lib/contract/machine'
import type { Answers } from '@/lib/contract/reading'
import { inFull, readerOf } from '@/lib/samples/samples'
import { heldTimes } from '@/lib/samples/timeline'
import type { Channel } from '@/lib/samples/trace'
import { reportUnused } from './answer-not-used'
import { assumeDecimalMark } from './assume-decimal-mark'
import type { ChannelPlan } from './channel-plan'
import { DecimalVote } from './decimal-evidence'
import { declaredChannels } from './declared-channels'
import { importError } from './fail'
import { fileZone } from './file-zone'
import { finishChannels } from './finish-channels'
import { coded } from './growable-samples'
import type { DecimalMark } from './number'
import { OpenQuote } from './open-quote'
import { type PreambleTime, readPreamble } from './preamble'
import { ProblemLog } from './problem-log'
import { recognisedChannels } from './recognised-channels'
import { RegularRows } from './regular-rows'
import type { ReadLog, SheetSource } from './report'
import { RowReader } from './row-reader'
import { pick } from './rows'
import { type RawTime, settleTime } from './settle-time'
import { findTable, type Table } from './table'
import { type LineBatch, type LineSource, readLines } from './text-lines'
import { findTime, type TimePlan } from './time-column'
import { checkZone } from './zone'

/** Characters of a list of names in a report. */
const LONGEST_LIST = 600

export interface ReadOptions {
  readonly fileName: string
  /** Null where the file is only to be recognised, without a nameplate to hold it against. */
  readonly machine: Machine | null
  /** IANA name of the site's zone, which loggers without a zone of their own follow. */
  readonly timeZone: string
  /** True for one of several files of a recording: a declared column may stand in another of them. */
  readonly isPart?: boolean
  /** What a person says of what the file leaves open. */
  readonly answers?: Answers
  /** Where in a spreadsheet the text comes from. */
  readonly spreadsheet?: SheetSource | null
  readonly onProgress?: (bytesRead: number, rowsRead: number) => void
}

/** The decimal mark that the table's cells vote for, the values' before that of a column of elapsed times. */
function voteMark(table: Table, time: TimePlan | null = null): DecimalMark | null {
  const vote = new DecimalVote()
  const ofValues = new DecimalVote()
  let commas = false
  for (const row of table.sample) {
    row.forEach((cell, column) => {
      vote.see(cell)
      if (time?.kind === 'numeric' && time.column !== column) ofValues.see(cell)
      if (cell.includes(',')) commas = true
    })
  }
  return ofValues.mark ?? vote.mark ?? (table.delimiter === ',' && !commas ? '.' : null)
}

function timeColumnsOf(time: TimePlan): Set<number> {
  if (time.kind === 'row-number') return new Set()
  const columns =
    time.kind === 'stamp' ? [time.column, time.dateColumn, time.msColumn] : [time.column, time.dayColumn]
  return new Set(columns.filter((column) => column !== null))
}

function planChannels(
  table: Table,
  time: TimePlan,
  options: ReadOptions,
  problems: ProblemLog,
  absent: string[],
): ChannelPlan[] {
  const declared = options.machine?.channels
  const timeColumns = timeColumnsOf(time)
  const plans =
    declared !== undefined && declared.length > 0
      ? declaredChannels(
          table,
          declared,
          timeColumns,
          problems,
          options.fileName,
          options.isPart ? absent : null,
        )
      : recognisedChannels(table, timeColumns, problems)
  if (plans.length > 0) return plans
  throw importError('no-usable-channel', {
    fileName: options.fileName,
    line: table.headerIndex === null ? null : table.headerIndex + 1,
    columns: table.headers
      .map((header) => header.column)
      .join(' | ')
      .slice(0, LONGEST_LIST),
  })
}

function rawTime(time: TimePlan, reader: RowReader): RawTime {
  if (reader.stamps !== null) return { kind: 'stamp', column: reader.stamps }
  if (reader.numericTime !== null && time.kind === 'numeric') {
    return { kind: 'numeric', column: reader.numericTime, unitText: time.unitText }
  }
  const intervalMs = time.kind === 'row-number' ? time.intervalMs : Number.NaN
  return { kind: 'row-number', intervalMs, count: reader.rowsKept }
}

interface Understood {
  readonly table: Table
  readonly preamble: PreambleTime
  readonly time: TimePlan
  readonly plans: readonly ChannelPlan[]
  readonly reader: RowReader
  /** Declared columns that the file does not have. */
  readonly absent: readonly string[]
}

/** Decides the dialect from the first batch, then reads every row: as bytes where it is regular, else as text. */
async function readRows(source: LineSource, options: ReadOptions, problems: ProblemLog): Promise<Understood> {
  const { fileName } = options
  const { batches } = source
  try {
    const first = await batches.next()
    if (first.done) throw importError('file-empty', { fileName })
    const table = findTable(first.value.lines, fileName)
    const preamble = readPreamble(table.preamble)
    const time = findTime(table, preamble, voteMark(table) ?? '.', fileName)
    const mark = voteMark(table, time)
    const absent: string[] = []
    const plans = planChannels(table, time, options, problems, absent)
    const reader = new RowReader(table, time, plans, mark, problems)
    const rows = new OpenQuote(
      (line) => reader.startsRow(line),
      (line, number, cutOff) => reader.readLine(line, number, cutOff),
    )
    const regular = RegularRows.of(reader, { table, time, plans })
    source.takeLines = (bytes, from, line) =>
      regular === null || rows.isWaiting || reader.isAboveTable
        ? { count: 0, end: from }
        : regular.take(bytes, from, line)
    for (let next: IteratorResult<LineBatch> = first; !next.done; next = await batches.next()) {
      const { lines, firstLine, lastLineOpen, bytesRead } = next.value
      const from = firstLine === 1 ? table.firstDataIndex : 0
      for (let i = from; i < lines.length; i++) {
        rows.push(lines[i], firstLine + i, lastLineOpen && i === lines.length - 1)
      }
      options.onProgress?.(bytesRead, reader.rowsRead)
    }
    rows.flush()
    const answer = options.answers?.decimalMark
    if (reader.mark === null) {
      assumeDecimalMark(reader, problems, table.firstDataIndex + 1, table.delimiter, answer)
    } else reportUnused(problems, 'decimalMark', answer, reader.mark)
    if (reader.rowsKept === 0) throw importError('no-usable-rows', { fileName, rows: reader.rowsRead })
    return { table, preamble, time, plans, reader, absent }
  } finally {
    // Closes the source where reading stopped early.
    await batches.return(undefined)
  }
}

/**
 * Reads one logger's file (text, already gunzipped) into a trace in SI and a report of how it was
 * understood. Dialect, decimal mark, order of day and month and the meaning of the time column are
 * decided once for the file, from whole columns; what stays ambiguous takes the likeliest reading
 * and is reported as `assumed-…` with the other. The bytes are never held whole.
 * @throws TankwardError with one of `IMPORT_ERROR_CODES`
 */
export async function readLog(source: AsyncIterable<Uint8Array>, options: ReadOptions): Promise<ReadLog> {
  const { fileName, machine, timeZone } = options
  checkZone(options.answers?.timeZone ?? timeZone)
  const problems = new ProblemLog()
  const { spreadsheet } = options
  if (spreadsheet && spreadsheet.others.length > 0) {
    const values = { sheet: spreadsheet.sheet, others: spreadsheet.others.join(' | ').slice(0, LONGEST_LIST) }
    problems.add('other-sheets-unused', { count: spreadsheet.others.length, values })
  }
  const lines = await readLines(source, fileName)
  const { table, preamble, time, plans, reader, absent } = await readRows(lines, options, problems)
  const columns = reader.columns.map((column) => column.take())
  const read = columns.map(readerOf)
  const timeColumn = time.kind === 'row-number' ? '' : table.headers[time.column].column
  const answers = options.answers ?? {}
  const zone = fileZone(timeColumn, table.preamble, answers.timeZone ?? timeZone)
  reportUnused(problems, 'timeZone', answers.timeZone, zone)
  const settled = settleTime(rawTime(time, reader), {
    timeColumn,
    preamble,
    timeZone: zone,
    answers,
    decimalComma: reader.mark === ',',
    usUnits: plans.some((plan) => ['psi', 'gpm', '°F', 'hp'].includes(plan.unit ?? plan.written?.unit ?? '')),
    problems,
    lineOf: (row) => reader.lines.lineOf(row),
    same: (a, b) => read.every((values) => Object.is(values.at(a), values.at(b))),
  })
  if (settled.timeS.length === 0) throw importError('no-usable-rows', { fileName, rows: reader.rowsRead })
  const { rows } = settled
  const kept = rows === null ? columns : columns.map((values) => coded(pick(inFull(values), rows)))
  const headerLine = table.headerIndex === null ? null : table.headerIndex + 1
  const channels = finishChannels(plans, kept, settled, reader, {
    machine,
    headerLine,
    problems,
    fileName,
    isPart: options.isPart ?? false,
  })
  const { timeS, sampleIntervalS, holdS, gaps } = heldTimes(settled.timeS)
  const used = new Set(channels.map((channel) => channel.column))
  const timeColumns = timeColumnsOf(time)
  const inUse = new Set(plans.filter((plan) => used.has(plan.column)).map((plan) => plan.index))
  return {
    trace: {
      timeS,
      holdS,
      channels,
      startedAtMs: settled.startedAtMs,
      sampleIntervalS,
      gaps,
    },
    report: {
      fileName,
      rowsRead: reader.rowsRead,
      rowsUsed: timeS.length,
      rowsRejected: reader.rowsRead - timeS.length,
      dialect: {
        encoding: lines.encoding,
        delimiter: table.delimiter,
        decimalMark: reader.mark ?? '.',
        headerLine,
        firstDataLine: table.firstDataIndex + 1,
        timeFormat: settled.format,
      },
      ...(spreadsheet ? { spreadsheet } : {}),
      channels: channels.map((channel) => ({
        column: channel.column,
        quantity: channel.quantity,
        location: channel.location,
        unit: channel.unit,
        ...(channel.accuracy === null ? {} : { accuracy: channel.accuracy }),
        ...scaleOf(plans, channel),
        ...evidenceOf(plans, channel),
      })),
      unusedColumns: table.headers
        .filter((_, i) => !inUse.has(i) && !timeColumns.has(i))
        .map((header) => header.column),
      ...(absent.length === 0 ? {} : { absentColumns: absent }),
      gaps,
      problems: problems.list(),
    },
  }
}

function evidenceOf(plans: readonly ChannelPlan[], channel: Channel): { evidence?: SensorEvidence } {
  const plan = plans.find(
    ({ column, quantity }) => column === channel.column && quantity === channel.quantity,
  )
  return plan?.evidence ? { evidence: plan.evidence } : {}
}

/** The scale that reads the column again as it was read: declared, or from a unit the contract lacks (l/s, mbar). */
function scaleOf(
  plans: readonly ChannelPlan[],
  channel: Channel,
): { scale?: NonNullable<ChannelPlan['scale']> } {
  const plan = plans.find((candidate) => candidate.column === channel.column)
  if (plan === undefined) return {}
  if (plan.scale !== null) return { scale: plan.scale }
  const { written } = plan
  const used = plan.unit === null && written !== null && written.quantity === channel.quantity
  return used && written.factor !== 1 ? { scale: { from: [0, 1], to: [0, written.factor] } } : {}
}
