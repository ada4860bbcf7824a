import type { ChannelDeclaration } from '@/lib/contract/machine'
import { timeline } from '@/lib/samples/timeline'
import type { Channel, Trace } from '@/lib/samples/trace'
import { MS_PER_S } from './clock'
import { importError } from './fail'
import { ProblemLog } from './problem-log'
import type { ReadLog } from './report'

/** Clocks of one recording cut into files agree to a fraction of the interval. */
const SAME_STAMP = 0.25

interface Placed {
  readonly log: ReadLog
  /** Seconds from the first sample of the first file. */
  readonly startS: number
}

function keyOf(channel: Pick<Channel, 'quantity' | 'location' | 'column'>): string {
  return `${channel.quantity}\u0000${channel.location}\u0000${channel.column}`
}

function endS(placed: Placed): number {
  const { timeS } = placed.log.trace
  return placed.startS + timeS[timeS.length - 1]
}

/** The files on one axis: by their dates, or one after the other where none has a date. */
function place(logs: readonly ReadLog[], problems: ProblemLog): Placed[] {
  const dated = logs.filter((log) => log.trace.startedAtMs !== null)
  if (dated.length > 0 && dated.length < logs.length) {
    throw importError('files-without-date', { count: logs.length - dated.length, files: logs.length })
  }
  if (dated.length > 0) {
    const ordered = [...logs].sort((a, b) => (a.trace.startedAtMs ?? 0) - (b.trace.startedAtMs ?? 0))
    const zero = ordered[0].trace.startedAtMs ?? 0
    return ordered.map((log) => ({ log, startS: ((log.trace.startedAtMs ?? 0) - zero) / MS_PER_S }))
  }
  const placed: Placed[] = []
  let at = 0
  for (const log of logs) {
    placed.push({ log, startS: at })
    at = at + log.trace.timeS[log.trace.timeS.length - 1] + log.trace.sampleIntervalS
  }
  problems.add('assumed-file-order', { values: { files: logs.length } })
  return placed
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

/** Files of different channels over the same time: two loggers on one machine. */
function sideBySide(a: Placed, b: Placed): boolean {
  const keys = new Set(a.log.trace.channels.map(keyOf))
  const overlapS = Math.min(endS(a), endS(b)) - Math.max(a.startS, b.startS)
  return overlapS > 0 && !b.log.trace.channels.some((channel) => keys.has(keyOf(channel)))
}

/** Samples of `values` at the other logger's times: each holds as long as its own logger says. */
function heldAt(times: Float64Array, offsetS: number, trace: Trace, values: Float64Array): Float64Array {
  const out = new Float64Array(times.length).fill(Number.NaN)
  let at = -1
  for (let i = 0; i < times.length; i++) {
    const wanted = times[i] + offsetS
    while (at + 1 < trace.timeS.length && trace.timeS[at + 1] <= wanted + 1e-9) at++
    if (at >= 0 && wanted < trace.timeS[at] + Math.max(trace.holdS[at], trace.sampleIntervalS) + 1e-9)
      out[i] = values[at]
  }
  return out
}

/** Two loggers' files as one: the second's channels held onto the first's time axis. */
function besides(a: Placed, b: Placed): Placed {
  const finer = a.log.trace.sampleIntervalS <= b.log.trace.sampleIntervalS
  const [base, other] = finer ? [a, b] : [b, a]
  const offsetS = base.startS - other.startS
  const added = other.log.trace.channels.map((channel) => ({
    ...channel,
    values: heldAt(base.log.trace.timeS, offsetS, other.log.trace, channel.values),
  }))
  const trace = { ...base.log.trace, channels: [...base.log.trace.channels, ...added] }
  const report = {
    ...base.log.report,
    channels: [...base.log.report.channels, ...other.log.report.channels],
    unusedColumns: [...base.log.report.unusedColumns, ...other.log.report.unusedColumns],
    problems: [...base.log.report.problems, ...other.log.report.problems],
  }
  return { startS: base.startS, log: { trace, report } }
}

function mergeSideBySide(placed: readonly Placed[]): Placed[] {
  const result: Placed[] = []
  for (const next of placed) {
    const at = result.findIndex((known) => sideBySide(known, next))
    if (at < 0) result.push(next)
    else result[at] = besides(result[at], next)
  }
  return result
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

/**
 * Several files of one machine as one record, joined in time: ordered by start, gaps between them
 * kept as gaps, rows that two files share used once and counted as rejected. Files of different
 * channels over the same time are laid side by side. Counts are summed over the files.
 * @throws TankwardError where some files carry a date and others none, or no file has a declared column
 */
export function joinLogs(logs: readonly ReadLog[]): ReadLog {
  if (logs.length === 0) throw importError('no-files', {})
  refuseAbsent(logs)
  if (logs.length === 1) return logs[0]
  const problems = new ProblemLog()
  const placed = mergeSideBySide(place(logs, problems))
  const channels = channelUnion(placed)
  const total = placed.reduce((sum, { log }) => sum + log.trace.timeS.length, 0)
  const timeS = new Float64Array(total)
  const values = channels.map(() => new Float64Array(total).fill(Number.NaN))
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
    let from = 0
    while (from < trace.timeS.length && trace.timeS[from] + startS <= least) from++
    if (from === trace.timeS.length) problems.add('file-repeated', { values: { rows: from } })
    if (from > 0) problems.add('overlapping-rows', { count: from, values: { files: placed.length } })
    for (let i = from; i < trace.timeS.length; i++) timeS[used + i - from] = trace.timeS[i] + startS
    sources.forEach((source, c) => {
      if (source !== undefined) values[c].set(source.subarray(from), used)
    })
    used += trace.timeS.length - from
  }
  const axis = timeS.subarray(0, used)
  const { sampleIntervalS, holdS, gaps } = timeline(axis)
  const rowsRead = logs.reduce((sum, log) => sum + log.report.rowsRead, 0)
  const declarations = new Map<string, ChannelDeclaration>()
  for (const { log } of placed) {
    for (const channel of log.report.channels) {
      const key = `${channel.quantity} ${channel.location} ${channel.column}`
      if (!declarations.has(key)) declarations.set(key, channel)
    }
  }
  for (const { report } of logs) {
    for (const known of report.problems) {
      problems.addKnown({ ...known, values: { ...known.values, file: report.fileName ?? null } })
    }
  }
  return {
    trace: {
      timeS: axis,
      holdS,
      channels: channels.map((channel, c) => ({ ...channel, values: values[c].subarray(0, used) })),
      startedAtMs: placed[0].log.trace.startedAtMs,
      sampleIntervalS,
      gaps,
    },
    report: {
      rowsRead,
      rowsUsed: logs.reduce((sum, log) => sum + log.report.rowsUsed, 0) - (total - used),
      rowsRejected: logs.reduce((sum, log) => sum + log.report.rowsRejected, 0) + (total - used),
      dialect: placed[0].log.report.dialect,
      channels: [...declarations.values()],
      unusedColumns: [...new Set(placed.flatMap(({ log }) => log.report.unusedColumns))],
      gaps,
      problems: problems.list(),
    },
  }
}
