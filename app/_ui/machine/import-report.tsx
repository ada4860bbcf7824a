import type { ReportView } from '@/app/_server/views/report-view'
import { bytes, count, dateTime, duration, elapsed, percent } from '../format'
import { Scroll } from '../scroll'
import { MARK_NAMES } from '../upload/inspection-view'
import { channelText, evidenceText, readingLines } from '../upload/reading-lines'
import { AddEvidence } from './add-evidence'

/** So many gaps are listed; the others are counted. */
const MOST_GAPS = 200
const NOBODY = 'a script, or a person on this computer'

function howRead({ reading, timeZone }: ReportView): string {
  if (!reading) return 'as the file and the machine’s set-up say; nobody was asked'
  const { remembered } = reading
  if (!remembered) return 'as a person said for this file'
  return `as remembered of its layout since ${dateTime(remembered.at, timeZone)}, said by ${remembered.by ?? NOBODY}`
}

/** What was read, used and rejected of a file, how it was understood and what was wrong with it. */
export function ImportReportView({ view }: { view: ReportView }) {
  const { report, timeZone, reading, handedIn } = view
  const { rowsRead, rowsUsed, rowsRejected, dialect, gaps, problems, channels, unusedColumns } = report
  const gapTime = gaps.reduce((sum, gap) => sum + gap.endS - gap.startS, 0)
  return (
    <>
      <section className="sheet" aria-labelledby="file">
        <h2 id="file">The file</h2>
        <dl className="pairs">
          <dt>Name</dt>
          <dd>{view.fileName}</dd>
          <dt>Size</dt>
          <dd>
            {bytes(view.byteLength)} ({count(view.byteLength)} bytes), kept byte for byte
          </dd>
          <dt>SHA-256 of its text</dt>
          <dd>
            <code>{view.sha256}</code>
          </dd>
          <dt>Received</dt>
          <dd>{dateTime(view.receivedAt, timeZone)}</dd>
          <dt>Span</dt>
          <dd>
            {view.startedAt
              ? `${dateTime(view.startedAt, timeZone)} to ${dateTime(view.endedAt, timeZone)}`
              : 'no date in the file'}{' '}
            ({duration(view.durationS)}), one row every {duration(view.sampleIntervalS)}
          </dd>
          <dt>Written with</dt>
          <dd>
            {report.spreadsheet
              ? `a spreadsheet, sheet “${report.spreadsheet.sheet}”`
              : `${dialect.encoding}, columns parted by ${MARK_NAMES[dialect.delimiter] ?? dialect.delimiter}, decimal ${MARK_NAMES[dialect.decimalMark]}`}
            , time as {dialect.timeFormat};{' '}
            {dialect.headerLine === null ? 'no header' : `header in line ${count(dialect.headerLine)}`}, rows
            from line {count(dialect.firstDataLine)} on
          </dd>
          <dt>Read</dt>
          <dd>
            {howRead(view)}
            {reading ? (
              <ul>
                {readingLines(reading.reading).map((line) => (
                  <li key={line}>{line}</li>
                ))}
              </ul>
            ) : null}
          </dd>
        </dl>
      </section>
      <section className="sheet" aria-labelledby="rows">
        <h2 id="rows">Rows</h2>
        <dl className="pairs">
          <dt>Read</dt>
          <dd>{count(rowsRead)}</dd>
          <dt>Used</dt>
          <dd>{count(rowsUsed)}</dd>
          <dt>Rejected</dt>
          <dd>{rowsRejected ? `${count(rowsRejected)} (${percent(rowsRejected / rowsRead)})` : 'none'}</dd>
        </dl>
        {problems.length ? (
          <Scroll label="What was found">
            <table>
              <caption>What was found: how often, and where first</caption>
              <thead>
                <tr>
                  <th scope="col">What</th>
                  <th scope="col" className="num">
                    How often
                  </th>
                  <th scope="col" className="num">
                    First in line
                  </th>
                  <th scope="col">Column</th>
                </tr>
              </thead>
              <tbody>
                {problems.map((problem) => (
                  <tr key={`${problem.code} ${problem.line} ${problem.column} ${problem.message}`}>
                    <td>
                      {problem.message}
                      {problem.examples && problem.examples.length > 0 ? (
                        <details className="twin">
                          <summary>
                            {problem.examples.length < problem.count
                              ? `The first ${problem.examples.length}`
                              : 'Which'}
                          </summary>
                          <ul>
                            {problem.examples.map(({ line, cell }) => (
                              <li key={line}>
                                line {count(line)}: {cell === null ? 'an empty cell' : <code>{cell}</code>}
                              </li>
                            ))}
                          </ul>
                        </details>
                      ) : null}
                    </td>
                    <td className="num">{count(problem.count)}</td>
                    <td className="num">{problem.line === null ? '' : count(problem.line)}</td>
                    <td>{problem.column ?? ''}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
        ) : (
          <p>Nothing was wrong with it.</p>
        )}
      </section>
      <section className="sheet" aria-labelledby="columns">
        <h2 id="columns">Columns</h2>
        <ul>
          {channels.map((channel) => (
            <li key={`${channel.column} ${channel.location}`}>
              {channelText(channel)}
              <span className="how">
                {evidenceText(channel.evidence, channel.unit) ??
                  'no evidence of the sensor was entered before the import'}
              </span>
              {handedIn
                .filter((one) => one.column === channel.column)
                .map((one) => (
                  <span className="how" key={one.id}>
                    handed in on {dateTime(one.createdAt, timeZone)} by {one.author}:{' '}
                    {evidenceText(one.evidence, channel.unit)}
                  </span>
                ))}
            </li>
          ))}
        </ul>
        <p className="soft">
          {unusedColumns.length ? `Not used: ${unusedColumns.join(', ')}.` : 'Every column is used.'}
        </p>
        <AddEvidence
          logId={view.logId}
          sensors={channels.map(({ column, unit = '' }) => ({ column, unit }))}
        />
      </section>
      <section className="sheet" aria-labelledby="gaps">
        <h2 id="gaps">Gaps</h2>
        {gaps.length ? (
          <>
            <p>
              {count(gaps.length)}, {duration(gapTime)} in all; never bridged.
            </p>
            <details className="twin">
              <summary>Where they lie, in elapsed h:mm:ss from the first sample</summary>
              <ul>
                {gaps.slice(0, MOST_GAPS).map(({ startS, endS }) => (
                  <li key={startS}>
                    {elapsed(startS)} to {elapsed(endS)}
                  </li>
                ))}
              </ul>
              {gaps.length > MOST_GAPS ? <p>and {count(gaps.length - MOST_GAPS)} more</p> : null}
            </details>
          </>
        ) : (
          <p>None.</p>
        )}
      </section>
    </>
  )
}
