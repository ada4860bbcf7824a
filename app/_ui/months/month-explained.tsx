import type { MonthPage } from '@/app/_server/views/month-page'
import { number } from '../format'

/** How every column of the month is reached, with the site's own inputs. */
export function MonthExplained({ site }: { site: MonthPage['site'] }) {
  const price = site.tariffs?.length
    ? `the tariff that held on its day (${site.tariffs.length} versions)`
    : site.tariff?.bands.length
      ? 'the price of its time-of-use band'
      : `${number(site.energyPricePerKWh)} ${site.currency}/kWh`
  return (
    <details className="twin">
      <summary>How each column is reached</summary>
      <div className="explain">
        <dl>
          <dt>Measured</dt>
          <dd>
            sum over the month’s samples of input × the part of it this kind of waste has at the meter (its
            share of motor and pump loss included); cost at {price}; CO₂ at the emission factor of the month’s
            days
          </dd>
          <dt>Of input</dt>
          <dd>measured ÷ the machine’s measured electric input</dd>
          <dt>Scaled part</dt>
          <dd>
            (planned hours − logged running hours) × measured per running hour; planned hours by the machine’s
            shift calendar, else {number(site.plannedHoursPerYear)} h/yr ÷ 12
          </dd>
          <dt>Intervals</dt>
          <dd>
            95 %. Measured: sensors and edges of each log by themselves, plates and models shared by all logs
            of a machine (JCGM 100). Scaled: also how days differ, by Student’s t, and the doubt of planned
            hours.
          </dd>
          <dt>Change to month before</dt>
          <dd>
            measured and scaled together, this month − the month before, in money; parted exactly into hours
            run, duty, waste per hour of each kind of phase, and price
          </dd>
          <dt>Coverage</dt>
          <dd>logged running hours ÷ planned hours; time that two logs of a machine hold counts once</dd>
          <dt>Logs</dt>
          <dd>
            the recordings that the row stands on: each opens with its own formulas, sensors and intervals
          </dd>
        </dl>
      </div>
    </details>
  )
}
