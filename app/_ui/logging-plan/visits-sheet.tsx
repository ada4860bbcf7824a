import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'
import { count, duration, tick } from '../format'
import { Scroll } from '../scroll'
import { Blank } from './opened'

/** Lines on the sheet at most: what goes beyond is written on a copy. */
const MOST_LINES = 12
const LETTERS = 'ABCDEFGHIJKLMNOPQRST'

/** Which shifts, which products, cold and warm; with lines to fill in. */
export function VisitsSheet({ view }: { view: LoggingPlanView }) {
  const { plan, site, shifts } = view
  const { visits, wishes } = plan
  const clusters = wishes.shifts * wishes.products
  const lines = Math.min(MOST_LINES, visits?.count ?? clusters)
  const isLogged = shifts.some(({ hours }) => hours > 0)
  return (
    <section className="sheet">
      <h2>Which shifts and products</h2>
      <p>
        {visits
          ? `${count(visits.count)} visits of ${duration(visits.eachS)} running time, on ${count(plan.length.days)} days at least.`
          : 'The wanted certainty cannot be had by time alone (see above): cover at least what is listed here.'}{' '}
        Every shift with every product at least once, since they differ more from each other than cycles of
        one shift. At least one <strong>cold start</strong> from before the motor is switched on, and one
        stretch with the oil <strong>warm</strong> and steady (usually an hour and more of work): leakage and
        flow losses change with the oil’s temperature.
      </p>
      {isLogged ? (
        <p>
          Recorded so far, by the clock at the site ({site.timeZone}; usual shifts, assumed):{' '}
          {shifts
            .map(
              ({ band, hours }) =>
                `${WORDS.shifts[band.shift].toLowerCase()} (${band.fromHour} to ${band.toHour} h) ${tick(hours)} h`,
            )
            .join(', ')}
          .
        </p>
      ) : null}
      <Scroll label="Visits to be filled in">
        <table className="plan-table to-fill visits">
          <thead>
            <tr>
              <th scope="col">Visit</th>
              <th scope="col">Shift</th>
              <th scope="col">Product</th>
              <th scope="col">Date, start</th>
              <th scope="col">Stop</th>
              <th scope="col">Pieces or cycles counted</th>
              <th scope="col">Remarks</th>
            </tr>
          </thead>
          <tbody>
            {Array.from({ length: lines }, (_, k) => k).map((k) => (
              <tr key={k}>
                <th scope="row">{k + 1}</th>
                <td>{(k % wishes.shifts) + 1}</td>
                <td>{LETTERS[Math.floor(k / wishes.shifts) % wishes.products]}</td>
                <td>
                  <Blank />
                </td>
                <td>
                  <Blank />
                </td>
                <td>
                  <Blank />
                </td>
                <td>{k === 0 ? 'cold start' : <Blank />}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {(visits?.count ?? 0) > lines ? (
        <p className="foot-note">
          {count((visits?.count ?? 0) - lines)} more visits in the same turn of shifts and products: on a copy
          of this sheet.
        </p>
      ) : null}
    </section>
  )
}
