import { Scroll } from '@/app/_ui/scroll'
import { count, dateTime, duration, percent } from '../format'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'
import { ProblemPlace } from '../machine/problem-place'
import type { Inspection } from './upload-state'

const MARKS: Readonly<Record<string, string>> = {
  ',': 'comma',
  '.': 'point',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
  ' ': 'space',
}

const named = (names: Readonly<Record<string, string>>, key: string | undefined) =>
  key ? (names[key] ?? key) : 'not stated'

/** What was understood of a file, before anything is stored. */
export function InspectionView({ inspection, timeZone }: { inspection: Inspection; timeZone: string }) {
  const { rowsRead, rowsUsed, rowsRejected, gaps, channels, unusedColumns, problems, dialect } =
    inspection.report
  const gapTime = gaps.reduce((sum, gap) => sum + gap.endS - gap.startS, 0)
  return (
    <>
      {inspection.sameAs ? (
        <div className="note">
          <p>This recording is already stored for this machine. Importing it again changes nothing.</p>
        </div>
      ) : null}
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
          {dialect.encoding}, columns parted by {MARKS[dialect.delimiter] ?? dialect.delimiter}, decimal{' '}
          {MARKS[dialect.decimalMark]}, time as {dialect.timeFormat}
        </dd>
        <dt>Gaps</dt>
        <dd>{gaps.length ? `${count(gaps.length)}, ${duration(gapTime)} in all; never bridged` : 'none'}</dd>
      </dl>
      <Scroll label="Columns as understood">
        <table>
          <caption>Columns as understood</caption>
          <thead>
            <tr>
              <th scope="col">Column</th>
              <th scope="col">Quantity</th>
              <th scope="col">Location</th>
              <th scope="col">Unit</th>
            </tr>
          </thead>
          <tbody>
            {channels.map((channel) => (
              <tr key={channel.column}>
                <th scope="row">{channel.column}</th>
                <td>{named(QUANTITY_NAMES, channel.quantity)}</td>
                <td>{named(LOCATION_NAMES, channel.location)}</td>
                <td>{channel.unit ?? 'not stated'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {unusedColumns.length ? <p className="soft">Not used: {unusedColumns.join(', ')}.</p> : null}
      {problems.length ? (
        <div className="note warn">
          <p>
            <strong>Look at this before importing</strong>
          </p>
          <ul>
            {problems.map((problem) => (
              <li key={`${problem.code} ${problem.line} ${problem.column}`}>
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
