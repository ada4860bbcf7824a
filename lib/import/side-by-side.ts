import { readerOf } from '@/lib/samples/samples'
import type { Channel, FullTrace } from '@/lib/samples/trace'
import type { PlacedTrace } from './change-series'
import { MS_PER_S } from './clock'
import { type ClockShift, findClockShift, type Shift } from './clock-shift'
import { rangeOf } from './column-range'
import type { ProblemLog } from './problem-log'
import type { FullLog } from './report'
import { holdSlowerChannel, LEADING, type Lead, MOST_MISSING_IN_LEAD } from './slower-channel'

/** From this ratio of the intervals on one logger counts as slower. */
const SLOWER = 1.6
/** A person's shift is the one found where they are no further apart. */
const SAME_SHIFT_S = 1

/** One logger's recording where it lies in time. */
export interface Placed {
  readonly log: FullLog
  /** Seconds from the first sample of the first file. */
  readonly startS: number
  /** Its place among the files as they were given: the first one's clock is the one that counts. */
  readonly order: number
  /** What a person says is to be added to its stamps, in s; null: nothing was said. */
  readonly saidS: number | null
  readonly name: string
}

export function endS({ log, startS }: Placed): number {
  const { timeS } = log.trace
  return startS + timeS[timeS.length - 1]
}

export function keyOf(channel: Pick<Channel, 'quantity' | 'location' | 'column'>): string {
  return `${channel.quantity}\u0000${channel.location}\u0000${channel.column}`
}

/** Different channels over the same time: two loggers on one machine. */
export function areSideBySide(a: Placed, b: Placed): boolean {
  const keys = new Set(a.log.trace.channels.map(keyOf))
  const overlapS = Math.min(endS(a), endS(b)) - Math.max(a.startS, b.startS)
  return overlapS > 0 && !b.log.trace.channels.some((channel) => keys.has(keyOf(channel)))
}

const placedTrace = ({ log, startS }: Placed): PlacedTrace => ({ trace: log.trace, startS })

/** A logger's recording with its clock put right. */
function moved(placed: Placed, { shiftS, drift, middleS }: Shift): Placed {
  const { trace, report } = placed.log
  const firstS = shiftS + drift * (placed.startS - middleS)
  const timeS = drift === 0 ? trace.timeS : trace.timeS.map((time) => time * (1 + drift))
  const startedAtMs = trace.startedAtMs === null ? null : trace.startedAtMs + firstS * MS_PER_S
  return {
    ...placed,
    startS: placed.startS + firstS,
    log: { trace: { ...trace, timeS, startedAtMs }, report },
  }
}

const rounded = (seconds: number): number => Math.round(seconds * MS_PER_S) / MS_PER_S

/** What a report says of a shift. */
function shiftValues(shift: Shift, file: string, lengthS: number, others: readonly Shift[]) {
  const { shiftS, doubtS, drift, correlation } = shift
  return {
    shiftS: rounded(shiftS),
    doubtS: rounded(doubtS),
    correlation: rounded(correlation),
    file,
    ...(drift === 0
      ? {}
      : {
          startShiftS: rounded(shiftS - (drift * lengthS) / 2),
          endShiftS: rounded(shiftS + (drift * lengthS) / 2),
        }),
    ...(others.length === 0
      ? {}
      : { otherShiftsS: others.map((other) => rounded(other.shiftS)).join(' | ') }),
  }
}

/** The shift that is used for the second logger, with what is to be said of it; null where its stamps stand. */
function settleShift(
  found: ClockShift,
  saidS: number | null,
  second: Placed,
  lengthS: number,
  problems: ProblemLog,
): Shift | null {
  const shifts = found.kind === 'apart' ? [found.shift] : found.kind === 'ambiguous' ? found.shifts : []
  const valuesOf = (shift: Shift) =>
    shiftValues(
      shift,
      second.name,
      lengthS,
      shifts.filter((other) => other !== shift),
    )
  if (saidS !== null) {
    const near = shifts.find(
      ({ shiftS, doubtS }) => Math.abs(shiftS - saidS) <= Math.max(SAME_SHIFT_S, doubtS),
    )
    if (saidS === 0 && near === undefined) return null
    const shift = near ?? { shiftS: saidS, doubtS: 0, drift: 0, middleS: 0, correlation: 0 }
    problems.add('clock-shifted', { values: valuesOf(shift) })
    return shift
  }
  if (found.kind === 'untold') problems.add('clocks-not-compared', { values: { file: second.name } })
  if (shifts.length === 0) return null
  problems.add('assumed-clock-shift', { values: valuesOf(shifts[0]) })
  return shifts[0]
}

/** Readings at the rows that are nearest to them; where several fall on one row the last stands. */
function atNearestRows(
  timeS: Float64Array,
  offsetS: number,
  other: FullTrace,
  values: Float64Array,
): Float64Array {
  const out = new Float64Array(timeS.length).fill(Number.NaN)
  let row = 0
  for (let i = 0; i < values.length; i++) {
    const wanted = other.timeS[i] - offsetS
    while (row + 1 < timeS.length && Math.abs(timeS[row + 1] - wanted) <= Math.abs(timeS[row] - wanted)) row++
    if (Math.abs(timeS[row] - wanted) <= other.sampleIntervalS) out[row] = values[i]
  }
  return out
}

/** For every row the reading that is nearest, no further off than it holds. */
function nearestReadings(
  timeS: Float64Array,
  offsetS: number,
  other: FullTrace,
  values: Float64Array,
): Float64Array {
  const out = new Float64Array(timeS.length).fill(Number.NaN)
  let at = 0
  for (let row = 0; row < timeS.length; row++) {
    const wanted = timeS[row] + offsetS
    while (
      at + 1 < other.timeS.length &&
      Math.abs(other.timeS[at + 1] - wanted) <= Math.abs(other.timeS[at] - wanted)
    )
      at++
    const reach = Math.max(other.holdS[at], other.sampleIntervalS)
    const off = wanted - other.timeS[at]
    // Ahead of its first reading and behind its last a logger says nothing.
    if (off < reach + 1e-9 && off > -other.sampleIntervalS / 2 - 1e-9) out[row] = values[at]
  }
  return out
}

function leadsOf({ channels }: FullTrace): Lead[] {
  return channels.flatMap(({ quantity, values }) => {
    if (!LEADING.includes(quantity)) return []
    const missing = values.reduce((sum, value) => sum + (Number.isNaN(value) ? 1 : 0), 0)
    const { low, high } = rangeOf(values)
    return missing < values.length * MOST_MISSING_IN_LEAD && high > low
      ? [{ values: readerOf(values), span: high - low }]
      : []
  })
}

/**
 * Two loggers' recordings as one on the quicker one's rows. Their clocks are compared by what they read; where they
 * are apart, the later named one is moved, and that is reported: as assumed, or as a person said it. A slower logger's
 * channels change where the quicker one's do, as in a file that holds both.
 */
export function besides(one: Placed, two: Placed, problems: ProblemLog): Placed {
  const [first, second] = one.order <= two.order ? [one, two] : [two, one]
  const saidS =
    second.saidS === null && first.saidS === null ? null : (second.saidS ?? 0) - (first.saidS ?? 0)
  const found = findClockShift(placedTrace(first), placedTrace(second))
  const sharedS = Math.min(endS(first), endS(second)) - Math.max(first.startS, second.startS)
  const shift = settleShift(found, saidS, second, sharedS, problems)
  const right = shift === null ? second : moved(second, shift)
  const finer = first.log.trace.sampleIntervalS <= right.log.trace.sampleIntervalS
  const [base, other] = finer ? [first, right] : [right, first]
  const { trace } = base.log
  const from = other.log.trace
  const offsetS = base.startS - other.startS
  const isSlower = from.sampleIntervalS >= trace.sampleIntervalS * SLOWER
  const added = from.channels.map((channel) => {
    const held = (): Float64Array => nearestReadings(trace.timeS, offsetS, from, channel.values)
    if (!isSlower) return { ...channel, values: held() }
    const values = atNearestRows(trace.timeS, offsetS, from, channel.values)
    const filled = holdSlowerChannel(values, trace.timeS, leadsOf(trace), channel.column, problems)
    return { ...channel, values: filled > 0 ? values : held() }
  })
  const outside = from.timeS.reduce((sum, time) => {
    const at = time - offsetS
    return (
      sum +
      (at < -from.sampleIntervalS || at > trace.timeS[trace.timeS.length - 1] + from.sampleIntervalS ? 1 : 0)
    )
  }, 0)
  if (outside > 0) problems.add('rows-outside-other-logger', { count: outside, values: { file: other.name } })
  const { report } = base.log
  const theirs = other.log.report
  for (const known of [...report.problems, ...theirs.problems]) problems.addKnown(known)
  return {
    ...base,
    order: first.order,
    saidS: first.saidS,
    log: {
      trace: { ...trace, channels: [...trace.channels, ...added] },
      report: {
        ...report,
        rowsRead: report.rowsRead + theirs.rowsRead,
        rowsUsed: report.rowsUsed + theirs.rowsUsed,
        rowsRejected: report.rowsRejected + theirs.rowsRejected,
        channels: [...report.channels, ...theirs.channels],
        unusedColumns: [...report.unusedColumns, ...theirs.unusedColumns],
        problems: [],
      },
    },
  }
}
