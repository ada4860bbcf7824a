import type { MeasureEventAnswer } from '@/app/_server/measure-shapes'
import { proofWords } from '@/app/_words/en/proof'
import { dateTime } from '../format'
import { Scroll } from '../scroll'

/** Every step that was ever taken, the latest first; nothing is taken out. */
export function History({ events, timeZone }: { events: readonly MeasureEventAnswer[]; timeZone: string }) {
  return (
    <Scroll label="History">
      <table style={{ minInlineSize: '42rem' }}>
        <thead>
          <tr>
            <th scope="col">Date</th>
            <th scope="col">Step</th>
            <th scope="col">Why</th>
            <th scope="col">Said by</th>
            <th scope="col">Entered</th>
          </tr>
        </thead>
        <tbody>
          {[...events].reverse().map((event) => (
            <tr key={event.seq}>
              <td className="nowrap">{event.on}</td>
              <th scope="row">
                {proofWords.states[event.state]}
                {event.proof ? <span className="how">{event.proof.message}</span> : null}
              </th>
              <td>{event.reason ?? '–'}</td>
              <td>{event.author ?? '–'}</td>
              <td className="nowrap">{dateTime(event.enteredAt, timeZone)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
