import type { DescribedExplanation } from '@/app/_words/describe-explanation'
import { standings } from '@/app/_words/en/interval'
import { count, number } from '../format'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'
import { Scroll } from '../scroll'
import { evidenceText } from '../upload/reading-lines'
import { halfInUnit, inUnit, unitText } from './quantity-text'

/** A signal tells when, not how much. */
const isSwitch = ({ quantity }: DescribedExplanation['sensors'][number]) => quantity === 'signal'

function SensorEvidence({ sensor }: { sensor: DescribedExplanation['sensors'][number] }) {
  const text = evidenceText(sensor.evidence, sensor.unit)
  return text ? <span className="how">{text}</span> : null
}

/** Sensors behind a figure: what they cover, how sure they are, and what was taken off. */
export function SensorsUsed({ sensors }: { sensors: DescribedExplanation['sensors'] }) {
  return (
    <Scroll label="Sensors">
      <table>
        <caption>Sensors; limits are 95 % of one constant offset a log</caption>
        <thead>
          <tr>
            <th scope="col">Column</th>
            <th scope="col" className="num">
              Samples
            </th>
            <th scope="col" className="num">
              Time <span className="unit">h</span>
            </th>
            <th scope="col" className="num">
              Limit
            </th>
            <th scope="col" className="num">
              Offset taken off
            </th>
          </tr>
        </thead>
        <tbody>
          {sensors.map((sensor) => (
            <tr key={sensor.column}>
              <th scope="row">
                {sensor.column}
                <span className="how">
                  {QUANTITY_NAMES[sensor.quantity]}, {LOCATION_NAMES[sensor.location]}
                </span>
                <SensorEvidence sensor={sensor} />
              </th>
              <td className="num">{count(sensor.samples)}</td>
              <td className="num">{number(sensor.hours)}</td>
              <td className="num">
                {isSwitch(sensor) ? (
                  'on or off'
                ) : (
                  <>
                    ± {number(sensor.limit, 2)} {sensor.unit}
                    <span className="how">
                      {sensor.declared ? 'declared' : 'assumed: 1 % of the largest reading'}
                    </span>
                  </>
                )}
              </td>
              <td className="num">
                {sensor.limitAfter > 0 ? (
                  <>
                    {number(sensor.offset, 2)} {sensor.unit}
                    <span className="how">then ± {number(sensor.limitAfter, 2)}</span>
                  </>
                ) : (
                  'none'
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}

/** Defaults behind a figure: what nobody entered and nobody measured. */
export function DefaultsUsed({ defaults }: { defaults: DescribedExplanation['defaults'] }) {
  return (
    <Scroll label="Defaults used">
      <table>
        <caption>Defaults used, since nothing better was entered; limits are 95 %</caption>
        <thead>
          <tr>
            <th scope="col">Default</th>
            <th scope="col" className="num">
              Value
            </th>
            <th scope="col">Standing</th>
            <th scope="col" className="num">
              By this log
            </th>
          </tr>
        </thead>
        <tbody>
          {defaults.map((one) => (
            <tr key={one.parameter}>
              <th scope="row">{one.name}</th>
              <td className="num">
                {inUnit(one.value, one.unit)} ± {halfInUnit(one.limit, one.unit)} {unitText(one.unit)}
              </td>
              <td>{standings[one.standing]}</td>
              <td className="num">
                {inUnit(one.found, one.unit)} ± {halfInUnit(one.limitAfter, one.unit)} {unitText(one.unit)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
