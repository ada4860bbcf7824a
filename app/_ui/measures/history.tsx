import type { MeasureEventAnswer } from '@/app/_server/measure-shapes'
import { proofWords } from '@/app/_words/en/proof'
import { dateTime } from '../format'
import { StackedTable } from '../stacked-table'

/** Every step that was ever taken, the latest first; nothing is taken out. */
export function History({ events, timeZone }: { events: readonly MeasureEventAnswer[]; timeZone: string }) {
  return (
    <StackedTable
      label="History"
      head={
        <>
          <th scope="col">Step</th>
          <th scope="col">Date</th>
          <th scope="col">Why</th>
          <th scope="col">Said by</th>
          <th scope="col">Entered</th>
        </>
      }
    >
      {[...events].reverse().map((event) => (
        <tr key={event.seq}>
          <th scope="row">
            {proofWords.states[event.state]}
            {event.proof ? <span className="how">{event.proof.message}</span> : null}
          </th>
          <td className="nowrap" data-label="Date">
            {event.on}
          </td>
          <td data-label="Why">{event.reason ?? '–'}</td>
          <td data-label="Said by">{event.author ?? '–'}</td>
          <td data-label="Entered">{dateTime(event.enteredAt, timeZone)}</td>
        </tr>
      ))}
    </StackedTable>
  )
}
