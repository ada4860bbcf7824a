import type { MonthView } from '@/app/_server/views/month-view'
import { number } from '../format'

/** How every column of the month is reached, with the site's own inputs. */
export function MonthExplained({ site }: { site: MonthView['site'] }) {
  const price = site.tariff?.bands.length
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
            share of motor and pump loss included); cost at {price}; CO₂ at {number(site.emissionKgPerKWh)}{' '}
            kg/kWh
          </dd>
          <dt>Of input</dt>
          <dd>measured ÷ the machine’s measured electric input</dd>
          <dt>Scaled part</dt>
          <dd>
            (planned hours − logged running hours) × measured per running hour; planned hours ={' '}
            {number(site.plannedHoursPerYear)} h/yr ÷ 12
          </dd>
          <dt>Change to month before</dt>
          <dd>
            measured and scaled together, this month − the month before; parted into hours run and energy per
            hour
          </dd>
          <dt>Coverage</dt>
          <dd>logged running hours ÷ planned hours</dd>
          <dt>Sensors and intervals</dt>
          <dd>stand with every log on its machine’s page; a month adds up logs and has no interval yet</dd>
        </dl>
      </div>
    </details>
  )
}
