import type { ChannelDeclaration } from '@/lib/contract/machine'
import { timeline } from '@/lib/samples/timeline'
import { type Channel, traceInFull } from '@/lib/samples/trace'
import { MS_PER_S } from './clock'
import { importError } from './fail'
import { ProblemLog } from './problem-log'
import type { FullLog, ReadLog } from './report'
import { areSideBySide, besides, keyOf, type Placed } from './side-by-side'

/** Clocks of one recording cut into files agree to a fraction of the interval. */
const SAME_STAMP = 0.25

/** The files on one axis: by their dates, or one after the other where none has a date. */
function place(logs: readonly FullLog[], saidS: readonly (number | null)[], problems: ProblemLog): Placed[] {
  const parts = logs.map((log, order) => ({
    log: { trace: log.trace, report: { ...log.report, problems: named(log) } },
    order,
    saidS: saidS[order] ?? null,
    name: log.report.fileName ?? '',
  }))
  const dated = logs.filter((log) => log.trace.startedAtMs !== null)
  if (dated.length > 0 && dated.length < logs.length) {
    throw importError('files-without-date', { count: logs.length - dated.length, files: logs.length })
  }
  if (dated.length > 0) {
    const startMs = ({ log }: { log: ReadLog }): number => log.trace.startedAtMs ?? 0
    const ordered = [...parts].sort((a, b) => startMs(a) - startMs(b))
    const zero = startMs(ordered[0])
    return ordered.map((part) => ({ ...part, startS: (startMs(part) - zero) / MS_PER_S }))
  }
  const placed: Placed[] = []
  let at = 0
  for (const part of parts) {
    const { timeS, sampleIntervalS } = part.log.trace
    placed.push({ ...part, startS: at })
    at = at + timeS[timeS.length - 1] + sampleIntervalS
  }
  problems.add('assumed-file-order', { values: { files: logs.length } })
  return placed
}

/** A file's problems, each with the file's name. */
function named({ report }: ReadLog) {
  const file = report.fileName ?? null
  return report.problems.map((known) => ({ ...known, values: { ...known.values, file } }))
}

/** Every channel of any file, in the order met. */
function channelUnion(placed: readonly Placed[]): Channel[] {
  const union = new Map<string, Channel>()
  for (const { log } of placed) {
    for (const channel of log.trace.channels) {
      if (!union.has(keyOf(channel))) union.set(keyOf(channel), channel)
    }
  }
  return [...union.values()]
}

/** The files of each logger: those that have a channel in common with others of it. */
function byLogger(placed: readonly Placed[]): Placed[][] {
  let loggers: { keys: Set<string>; files: Placed[] }[] = []
  for (const file of placed) {
    const keys = file.log.trace.channels.map(keyOf)
    const same = loggers.filter((logger) => keys.some((key) => logger.keys.has(key)))
    const one = {
      keys: new Set([...same.flatMap((logger) => [...logger.keys]), ...keys]),
      files: [...same.flatMap((logger) => logger.files), file],
    }
    loggers = [...loggers.filter((logger) => !same.includes(logger)), one]
  }
  return loggers.map(({ files }) => files.sort((a, b) => a.startS - b.startS))
}

/** A declared column may be missing in some files, never in all. */
function refuseAbsent(logs: readonly ReadLog[]): void {
  const [first, ...others] = logs.map(({ report }) => report.absentColumns ?? [])
  const column = first.find((name) => others.every((names) => names.includes(name)))
  if (column === undefined) return
  const columns = logs.flatMap(({ report }) => [
    ...report.channels.map((channel) => channel.column),
    ...report.unusedColumns,
  ])
  const fileName = logs.map(({ report }) => report.fileName).join(', ')
  throw importError('channel-column-not-found', {
    fileName,
    column,
    columns: columns.join(' | ').slice(0, 600),
  })
}

/** Recordings one after the other as one: gaps between them kept, rows that two share used once. */
function inTime(placed: readonly Placed[], problems: ProblemLog): Placed {
  if (placed.length === 1) return placed[0]
  const channels = channelUnion(placed)
  const total = placed.reduce((sum, { log }) => sum + log.trace.timeS.length, 0)
  const timeS = new Float64Array(total)
  const values = channels.map(() => new Float64Array(total).fill(Number.NaN))
  const [{ startS: zeroS }] = placed
  let used = 0
  for (const { log, startS } of placed) {
    const { trace } = log
    const byKey = new Map(trace.channels.map((channel) => [keyOf(channel), channel.values]))
    const sources = channels.map((channel) => byKey.get(keyOf(channel)))
    channels.forEach((channel, c) => {
      if (sources[c] !== undefined) return
      problems.add('channel-absent-in-file', { column: channel.column, values: { rows: trace.timeS.length } })
    })
    const latest = used === 0 ? Number.NEGATIVE_INFINITY : timeS[used - 1]
    const least = latest + trace.sampleIntervalS * SAME_STAMP
    const shiftS = startS - zeroS
    let from = 0
    while (from < trace.timeS.length && trace.timeS[from] + shiftS <= least) from++
    if (from === trace.timeS.length) problems.add('file-repeated', { values: { rows: from } })
    if (from > 0) problems.add('overlapping-rows', { count: from, values: { files: placed.length } })
    for (let i = from; i < trace.timeS.length; i++) timeS[used + i - from] = trace.timeS[i] + shiftS
    sources.forEach((source, c) => {
      if (source !== undefined) values[c].set(source.subarray(from), used)
    })
    used += trace.timeS.length - from
  }
  const axis = timeS.subarray(0, used)
  const reports = placed.map(({ log }) => log.report)
  const declarations = new Map<string, ChannelDeclaration>()
  for (const channel of reports.flatMap((report) => report.channels)) {
    const key = `${channel.quantity} ${channel.location} ${channel.column}`
    if (!declarations.has(key)) declarations.set(key, channel)
  }
  for (const known of reports.flatMap((report) => report.problems)) problems.addKnown(known)
  const sum = (of: (report: ReadLog['report']) => number): number =>
    reports.reduce((all, report) => all + of(report), 0)
  const { sampleIntervalS, holdS, gaps } = timeline(axis)
  const trace = {
    timeS: axis,
    holdS,
    channels: channels.map((channel, c) => ({ ...channel, values: values[c].subarray(0, used) })),
    startedAtMs: placed[0].log.trace.startedAtMs,
    sampleIntervalS,
    gaps,
  }
  const report = {
    rowsRead: sum(({ rowsRead }) => rowsRead),
    rowsUsed: sum(({ rowsUsed }) => rowsUsed) - (total - used),
    rowsRejected: sum(({ rowsRejected }) => rowsRejected) + (total - used),
    dialect: reports[0].dialect,
    channels: [...declarations.values()],
    unusedColumns: [...new Set(reports.flatMap((one) => one.unusedColumns))],
    gaps,
    problems: [],
  }
  return { ...placed[0], order: Math.min(...placed.map(({ order }) => order)), log: { trace, report } }
}

/**
 * Several files of one machine as one record, joined in time: each logger's files ordered by start, gaps between
 * them kept as gaps, rows that two files share used once and counted as rejected; then loggers of different channels
 * over the same time laid side by side, their clocks compared. Counts are summed over the files.
 * A file of its own is left as it is.
 * @param saidS what a person says is to be added to each file's stamps, in s, in the order of `logs`; null: nothing
 * @throws TankwardError where some files carry a date and others none, or no file has a declared column
 */
export function joinLogs(logs: readonly ReadLog[], saidS: readonly (number | null)[] = []): ReadLog {
  if (logs.length === 0) throw importError('no-files', {})
  refuseAbsent(logs)
  if (logs.length === 1) return logs[0]
  const problems = new ProblemLog()
  const whole = logs.map((log): FullLog => ({ ...log, trace: traceInFull(log.trace) }))
  const loggers = byLogger(place(whole, saidS, problems)).map((files) => inTime(files, problems))
  const merged: Placed[] = []
  for (const next of loggers.sort((a, b) => a.startS - b.startS)) {
    const at = merged.findIndex((known) => areSideBySide(known, next))
    if (at < 0) merged.push(next)
    else merged[at] = besides(merged[at], next, problems)
  }
  const { trace, report } = inTime(merged, problems).log
  for (const known of report.problems) problems.addKnown(known)
  const { fileName: _, absentColumns: _absent, spreadsheet: _sheet, ...joined } = report
  const parts = logs.map(
    ({ report: { fileName, rowsRead, rowsUsed, rowsRejected, dialect, spreadsheet } }) => ({
      fileName,
      rowsRead,
      rowsUsed,
      rowsRejected,
      dialect,
      ...(spreadsheet ? { spreadsheet } : {}),
    }),
  )
  return { trace, report: { ...joined, parts, gaps: trace.gaps, problems: problems.list() } }
}
