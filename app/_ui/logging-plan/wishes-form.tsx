import Link from 'next/link'
import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'
import { WANTED_SHARES } from '@/lib/logging-plan/length'
import { RECOMMENDED } from '@/lib/logging-plan/plan'
import { STATION_IDS, type StationId } from '@/lib/logging-plan/stations'
import { percent, tick } from '../format'
import { MOST_PRODUCTS, MOST_SHIFTS, type Refused, SHORTEST_PHASES_S } from './wishes'

const PERCENT = 100

/** The address of the plan with other sensors. */
const withSensors = (id: string, stations: readonly StationId[]) =>
  `/machines/${id}/logging-plan?${new URLSearchParams(stations.map((one) => ['sensor', one])).toString()}`

/** What is wanted of the plan: certainty, shortest phase, shifts and products, sensors. Sent as part of the address. */
export function WishesForm({ view, refused }: { view: LoggingPlanView; refused: readonly Refused[] }) {
  const { wishes } = view.plan
  return (
    <form className="sheet screen-only" action={`/machines/${view.id}/logging-plan`}>
      <h2>What is wanted</h2>
      {refused.map(({ entry, expected, actual }) => (
        <div key={`${entry} ${actual}`} className="note bad" role="alert">
          <p>
            Address, entry “{entry}”: expected {expected}, got “{actual}”.{' '}
            {entry === 'sensor' ? 'It is left out.' : 'The usual value stands in.'}
          </p>
        </div>
      ))}
      <div className="plan-wishes">
        <label>
          Yearly waste known within
          <select name="within" defaultValue={Math.round(wishes.wanted * PERCENT)}>
            {WANTED_SHARES.map((share) => (
              <option key={share} value={Math.round(share * PERCENT)}>
                ± {percent(share)}
              </option>
            ))}
          </select>
        </label>
        <label>
          Shortest phase to be seen
          <select name="shortest" defaultValue={wishes.shortestPhaseS}>
            {SHORTEST_PHASES_S.map((seconds) => (
              <option key={seconds} value={seconds}>
                {tick(seconds)} s
              </option>
            ))}
          </select>
        </label>
        <label>
          Shifts a day
          <input
            name="shifts"
            type="number"
            min={1}
            max={MOST_SHIFTS}
            step={1}
            defaultValue={wishes.shifts}
          />
        </label>
        <label>
          Products that differ
          <input
            name="products"
            type="number"
            min={1}
            max={MOST_PRODUCTS}
            step={1}
            defaultValue={wishes.products}
          />
        </label>
      </div>
      <fieldset className="plan-sensors">
        <legend>Sensors to be fitted</legend>
        {STATION_IDS.map((id) => (
          <label key={id}>
            <input type="checkbox" name="sensor" value={id} defaultChecked={wishes.stations.includes(id)} />{' '}
            {WORDS.stations[id].name}
          </label>
        ))}
      </fieldset>
      <div className="actions">
        <button type="submit" className="main">
          Work out the plan
        </button>
        <Link className="button" href={withSensors(view.id, RECOMMENDED)}>
          Recommended sensors
        </Link>
        {view.lastStations?.length ? (
          <Link className="button" href={withSensors(view.id, view.lastStations)}>
            Sensors of the latest log
          </Link>
        ) : null}
      </div>
    </form>
  )
}
