import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'
import { Scroll } from '../scroll'
import { halfText, reasonLines, sensorName } from './plan-words'
import { Worth } from './sensors-sheet'

/** What a sensor that is not in the plan would add to it. */
export function FurtherSensors({ view }: { view: LoggingPlanView }) {
  const { plan } = view
  const others = plan.stations.filter(({ isFitted }) => !isFitted)
  const useful = others.filter(({ id, worth }) => reasonLines(id, worth).length > 0)
  const useless = others.filter(({ id, worth }) => reasonLines(id, worth).length === 0)
  return (
    <section className="sheet">
      <h2>What more sensors would add</h2>
      {useful.length ? (
        <Scroll label="What more sensors would add">
          <table className="stacks plan-table">
            <thead>
              <tr>
                <th scope="col">Sensor and place</th>
                <th scope="col">What it would add</th>
                <th scope="col">
                  Waste of a year <span className="unit">with it / without it</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {useful.map(({ id, worth }) => (
                <tr key={id}>
                  <th scope="row">
                    {sensorName(id)}
                    <span className="how">{WORDS.stations[id].place}</span>
                  </th>
                  <td data-label="What it would add">
                    <ul className="plain">
                      {reasonLines(id, worth).map((line) => (
                        <li key={line}>{line}</li>
                      ))}
                    </ul>
                  </td>
                  <td data-label="Waste with it / without it">
                    <Worth worth={worth} mix={plan.mix} />
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      ) : (
        <p>None would determine or narrow anything by more than a trace.</p>
      )}
      {useless.length && plan.rehearsal ? (
        <p className="foot-note">
          Next to nothing beside these sensors (waste {halfText(plan.fixed.sensors)} as before):{' '}
          {useless.map(({ id }) => sensorName(id).toLowerCase()).join(', ')}.
          {useless.some(({ id }) => id === 'pressure:tank-line')
            ? ' A tank line pressure serves the judgement of the relief’s setting alone.'
            : ''}
        </p>
      ) : null}
    </section>
  )
}
