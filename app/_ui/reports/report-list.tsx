import Link from 'next/link'
import type { ReportAnswer, ReportsView } from '@/app/_server/views/reports-view'
import { ConfirmDelete } from '../confirm-delete'
import { dateTime, monthName } from '../format'
import { Refresher } from '../machine/refresher'
import { Scroll } from '../scroll'

const STATES: Readonly<Record<ReportAnswer['state'], string>> = {
  waiting: 'waits its turn',
  running: 'is being made',
  done: 'made',
  failed: 'failed',
}

/** Reports latest first, with their files or why there are none. */
export function ReportList({ view }: { view: ReportsView }) {
  const { reports, machines, timeZone } = view
  if (!reports.length) return <p className="nodata">None yet.</p>
  const names = new Map(machines.map(({ id, name }) => [id, name]))
  const nameOf = ({ kind, subject }: ReportAnswer) =>
    kind === 'month' ? monthName(subject) : (names.get(subject) ?? subject)
  const isOpen = reports.some(({ state }) => state === 'waiting' || state === 'running')
  return (
    <>
      {isOpen ? <Refresher /> : null}
      <Scroll label="Reports">
        <table>
          <caption className="sr">Reports, latest first</caption>
          <thead>
            <tr>
              <th scope="col">Of</th>
              <th scope="col">Made</th>
              <th scope="col">State</th>
              <th scope="col">Files</th>
              <th scope="col">
                <span className="sr">Delete</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {reports.map((report) => (
              <tr key={report.id}>
                <th scope="row">
                  <Link href={`/reports/${report.kind}/${encodeURIComponent(report.subject)}`}>
                    {nameOf(report)}
                  </Link>{' '}
                  {report.isScheduled ? <span className="tag">by itself</span> : null}
                </th>
                <td>
                  {dateTime(report.endedAt ?? report.createdAt, timeZone)}
                  {report.engineVersion === null ? null : (
                    <span className="how">engine {report.engineVersion}</span>
                  )}
                </td>
                <td>
                  {STATES[report.state]}
                  {report.failure ? <span className="how">{report.failure}</span> : null}
                </td>
                <td>
                  {report.pdf ? <a href={report.pdf}>PDF</a> : null}{' '}
                  {report.xlsx ? <a href={report.xlsx}>XLSX</a> : null}
                </td>
                <td>
                  <ConfirmDelete
                    path={`/api/reports/${encodeURIComponent(report.id)}`}
                    what={`the report of ${nameOf(report)}`}
                    consequence="Its files as they were made will be gone. It can be made again as the data stand then."
                    isPlain
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </>
  )
}
