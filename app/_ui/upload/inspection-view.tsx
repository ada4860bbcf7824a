import { count, dateTime, duration, percent } from '../format'
import { ProblemPlace } from '../machine/problem-place'
import type { Inspection } from './upload-state'

export const MARK_NAMES: Readonly<Record<string, string>> = {
  ',': 'comma',
  '.': 'point',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
  ' ': 'space',
}

/** Problems that are asked about instead. */
const ASKED: readonly string[] = [
  'assumed-day-order',
  'assumed-decimal-mark',
  'assumed-time-unit',
  'assumed-dst',
  'assumed-quantity',
  'assumed-unit',
  'assumed-location',
  'assumed-us-gallons',
  'assumed-columns-in-order',
  'assumed-clock-shift',
]

/** Readings that no machine of these plates gives: to be seen before anything is stored. */
const DOUBTED: readonly string[] = [
  'implausible-range',
  'current-off-power',
  'load-off-pressure',
  'pressure-below-load',
  'pressure-off-zero-at-rest',
  'channel-not-numeric',
  'stuck-sensor',
]

/** What makes one doubt a sensor, in plain sight on a file's card. */
export function Doubts({ inspection }: { inspection: Inspection }) {
  const doubted = inspection.report.problems.filter(({ code }) => DOUBTED.includes(code))
  if (doubted.length === 0) return null
  return (
    <div className="note warn">
      <ul>
        {doubted.map((problem) => (
          <li key={`${problem.code} ${problem.column} ${problem.message}`}>
            {problem.message}
            <ProblemPlace problem={problem} />
          </li>
        ))}
      </ul>
    </div>
  )
}

/** What is to be told of a file beside its questions. */
export const remarksOf = ({ report }: Inspection) =>
  report.problems.filter(({ code }) => !ASKED.includes(code))

/** What was understood of a file, before anything is stored. */
export function InspectionView({ inspection, timeZone }: { inspection: Inspection; timeZone: string }) {
  const { rowsRead, rowsUsed, rowsRejected, gaps, dialect } = inspection.report
  const problems = remarksOf(inspection)
  const gapTime = gaps.reduce((sum, gap) => sum + gap.endS - gap.startS, 0)
  return (
    <>
      <dl className="pairs">
        <dt>Span</dt>
        <dd>
          {inspection.startedAt
            ? `${dateTime(inspection.startedAt, timeZone)} to ${dateTime(inspection.endedAt, timeZone)}`
            : 'no date in the file'}{' '}
          ({duration(inspection.durationS)})
        </dd>
        <dt>One row every</dt>
        <dd>{duration(inspection.sampleIntervalS)}</dd>
        <dt>Rows</dt>
        <dd>
          {count(rowsRead)} read, {count(rowsUsed)} used,{' '}
          {rowsRejected
            ? `${count(rowsRejected)} rejected (${percent(rowsRejected / rowsRead)})`
            : 'none rejected'}
        </dd>
        <dt>Written with</dt>
        <dd>
          {dialect.encoding}, columns parted by {MARK_NAMES[dialect.delimiter] ?? dialect.delimiter}, decimal{' '}
          {MARK_NAMES[dialect.decimalMark]}, time as {dialect.timeFormat}
        </dd>
        <dt>Gaps</dt>
        <dd>{gaps.length ? `${count(gaps.length)}, ${duration(gapTime)} in all; never bridged` : 'none'}</dd>
      </dl>
      {problems.length ? (
        <div className="note warn">
          <p>
            <strong>Look at this before importing</strong>
          </p>
          <ul>
            {problems.map((problem) => (
              <li key={`${problem.code} ${problem.line} ${problem.column} ${problem.message}`}>
                {problem.message}
                <ProblemPlace problem={problem} />
              </li>
            ))}
          </ul>
        </div>
      ) : null}
    </>
  )
}
