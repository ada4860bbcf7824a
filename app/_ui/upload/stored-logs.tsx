import Link from 'next/link'
import type { LogChoice } from '@/app/_server/views/machine-view'
import { ConfirmDelete } from '@/app/_ui/confirm-delete'
import { isStored } from '@/db/schema/logs'
import { dateTime, duration, percent } from '../format'
import { Refresher } from '../machine/refresher'
import { Scroll } from '../scroll'
import { SERVER_STATES } from './upload-state'

/** What is already there of a machine, also what is still being imported after the page was left. */
export function StoredLogs({
  machineId,
  logs,
  timeZone,
}: {
  machineId: string
  logs: readonly LogChoice[]
  timeZone: string
}) {
  if (!logs.length) return null
  const isWorking = logs.some((log) => log.state !== 'done' && log.state !== 'failed')
  return (
    <section className="sheet" aria-labelledby="stored">
      {isWorking ? <Refresher /> : null}
      <h2 id="stored">Logs of this machine</h2>
      <Scroll label="Logs of this machine">
        <table className="stored stacks">
          <caption className="sr">Logs of this machine</caption>
          <thead>
            <tr>
              <th scope="col">Recorded</th>
              <th scope="col">File</th>
              <th scope="col" className="num">
                Length
              </th>
              <th scope="col">State</th>
              <td />
            </tr>
          </thead>
          <tbody>
            {logs.map((log) => (
              <tr key={log.id}>
                <th scope="row">{dateTime(log.startedAt, timeZone)}</th>
                <td data-label="File">
                  <Link href={`/machines/${machineId}?log=${log.id}`}>{log.fileName}</Link>
                </td>
                <td className="num" data-label="Length">
                  {duration(log.durationS)}
                </td>
                <td data-label="State">
                  {log.state === 'done' || log.state === 'failed' || log.state === 'replaying'
                    ? (SERVER_STATES[log.state] ?? log.state)
                    : `${SERVER_STATES[log.state] ?? log.state}, ${percent(log.progress)}`}
                  {log.failure ? <span className="soft"> ({log.failure})</span> : null}
                </td>
                <td className="nowrap">
                  {isStored(log) ? (
                    <>
                      <Link
                        href={`/machines/${machineId}/logs/${log.id}`}
                        aria-label={`Report of ${log.fileName}`}
                      >
                        Report
                      </Link>{' '}
                    </>
                  ) : null}
                  <ConfirmDelete
                    isPlain
                    verb={isStored(log) ? 'Undo' : 'Remove'}
                    path={`/api/logs/${log.id}`}
                    what={isStored(log) ? `the import of ${log.fileName}` : log.fileName}
                    consequence={
                      isStored(log)
                        ? 'Its samples, results and the kept original will be gone, and its hours leave the month.'
                        : 'It is taken off this list. Nothing of it is stored.'
                    }
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </section>
  )
}
