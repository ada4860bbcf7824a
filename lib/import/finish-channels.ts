import type { Machine } from '@/lib/contract/machine'
import { type ChannelSamples, inFull, readerOf } from '@/lib/samples/samples'
import type { Channel } from '@/lib/samples/trace'
import type { ChannelPlan } from './channel-plan'
import { rangeOf } from './column-range'
import { type ColumnScan, scanColumn } from './column-scan'
import { reportElectricDisagreement } from './electric-agreement'
import { importError } from './fail'
import { coded } from './growable-samples'
import { dropOverflowMarks, LEAST_MARK } from './overflow-marks'
import { reportImplausible, reportZeroAtRest } from './plausibility'
import type { ProblemLog } from './problem-log'
import { reportCells } from './report-cells'
import type { RowReader } from './row-reader'
import { settleChannels } from './settle-channels'
import type { SettledTime } from './settle-time'
import { dropOutOfSpan } from './signal-span'
import { holdSlowerChannel, LEADING, type Lead, MOST_MISSING_IN_LEAD } from './slower-channel'
import { findStuckRun } from './stuck-sensor'

interface Context {
  readonly machine: Machine | null
  readonly headerLine: number | null
  readonly problems: ProblemLog
  readonly fileName: string
  /** True for one of several files of a recording, which others may make good. */
  readonly isPart: boolean
}

/** For columns that are left as they are. */
const NO_VALUES = new Float64Array(0)

function hasReading(values: ChannelSamples): boolean {
  const reader = readerOf(values)
  let i = 0
  while (i < reader.length && Number.isNaN(reader.at(i))) i++
  return i < reader.length
}

/** Columns whose changes tell when a slower channel changed. */
function leadsOf(
  plans: readonly ChannelPlan[],
  columns: readonly ChannelSamples[],
  scans: readonly ColumnScan[],
): Lead[] {
  return plans.flatMap((plan, i) => {
    const isWhole = scans[i].missing < columns[i].length * MOST_MISSING_IN_LEAD
    const quantity = plan.quantity ?? plan.written?.quantity ?? null
    // A column without a name may be any.
    const isLead = isWhole && (quantity === null || LEADING.includes(quantity))
    if (!isLead) return []
    const { low, high } = rangeOf(columns[i])
    return high > low ? [{ values: readerOf(columns[i]), span: high - low }] : []
  })
}

/**
 * Overflow numbers and dead signals out, slower rates held, cells reported, units and places settled, stuck ones named.
 * @throws TankwardError `no-usable-channel`, or `signal-never-in-span` where a scale fits no reading of the pump pressure
 */
export function finishChannels(
  plans: readonly ChannelPlan[],
  read: readonly ChannelSamples[],
  settled: SettledTime,
  reader: RowReader,
  context: Context,
): Channel[] {
  const { problems } = context
  const { rows } = settled
  const lineOf = (row: number): number => reader.lines.lineOf(rows === null ? row : rows[row])
  const columns = [...read]
  const scans = columns.map(scanColumn)
  let times: Float64Array | null = null
  const timesInFull = () => {
    times ??= inFull(settled.timeS)
    return times
  }
  plans.forEach((plan, i) => {
    const scan = scans[i]
    const mayHaveMarks = !plan.isSwitch && scan.largest >= LEAST_MARK
    // What is mended is looked at number by number.
    const isMended = mayHaveMarks || scan.missing > 0 || plan.scale !== null
    const values = isMended ? inFull(columns[i]) : NO_VALUES
    if (isMended) columns[i] = values
    const marks = mayHaveMarks ? dropOverflowMarks(values) : null
    const isWhole = scan.missing === 0 && marks === null
    const explained = isWhole
      ? 0
      : holdSlowerChannel(values, timesInFull(), leadsOf(plans, columns, scans), plan.column, problems)
    const overflow =
      marks === null ? null : { count: marks.count, line: lineOf(marks.firstRow), mark: marks.mark }
    reportCells(reader.columns[i].faults, explained, overflow, plan.column, problems)
    const outside = plan.scale === null ? null : dropOutOfSpan(values, plan.scale)
    if (outside !== null) {
      const { firstRow, below, above, reading, lowest, highest } = outside
      const place = { line: lineOf(firstRow), column: plan.column }
      const isPump = plan.quantity === 'pressure' && plan.location === 'pump-outlet'
      if (isPump && !context.isPart && values.every(Number.isNaN)) {
        // Without a pump pressure there is no account, and nil would pass for one.
        const { fileName } = context
        throw importError('signal-never-in-span', { fileName, ...place, reading, lowest, highest })
      }
      problems.add('signal-out-of-span', {
        ...place,
        count: below + above,
        values: { reading, lowest, highest, below, above },
      })
    }
    if (isMended) columns[i] = coded(values)
  })
  plans.forEach((plan, i) => {
    // Where values were held or dropped the runs are others.
    if (scans[i].missing === 0 && !scans[i].hasLongRun) return
    const stuck = findStuckRun(
      columns[i],
      columns.filter((_, k) => k !== i),
    )
    if (stuck === null || plan.quantity === 'signal' || plan.quantity === 'temperature') return
    problems.add('stuck-sensor', {
      line: lineOf(stuck.firstRow),
      column: plan.column,
      count: stuck.count,
      values: { value: stuck.value, startS: readerOf(settled.timeS).at(stuck.firstRow) },
    })
  })
  const filled = columns.map(hasReading)
  const used = plans.filter((plan, i) => filled[i] || plan.declared)
  const values = columns.filter((_, i) => filled[i] || plans[i].declared)
  const channels = settleChannels(used, values, context)
  if (channels.length === 0 || !filled.includes(true)) {
    throw importError('no-usable-channel', {
      fileName: context.fileName,
      line: context.headerLine,
      columns: plans.map((plan) => plan.column).join(' | '),
    })
  }
  if (context.machine !== null) {
    const named = reportImplausible(channels, context.machine, problems)
    reportElectricDisagreement(channels, context.machine, named, problems)
    reportZeroAtRest(channels, context.machine, problems)
  }
  return channels
}
