import type { DescribedExplanation } from '@/app/_words/describe-explanation'
import { inputSources } from '@/app/_words/en/interval'
import { number, percent } from '../format'
import { BASIS_NAMES } from '../labels'
import { Scroll } from '../scroll'
import { CashFlows } from './cash-flows'
import { IntervalParts } from './interval-parts'
import { originName } from './origin-name'
import { asEntered, endsText, inUnit, phasesText, unitText } from './quantity-text'
import { DefaultsUsed, SensorsUsed } from './sources'

/** From this share on an interval is as good as gone. */
const NEARLY_ALL = 0.95

/** Formula, rules, inputs, sensors, defaults and interval of one figure, in the order a doubter asks for them. */
export function ExplanationView({ told }: { told: DescribedExplanation }) {
  const { formula, legend, rules, inputs, takenAsExact, basis, narrowing } = told
  return (
    <>
      <p className="formula">{formula.message}</p>
      <dl className="legend">
        {legend
          .filter(({ written, name }) => written !== name)
          .map(({ symbol, written, name }) => (
            <div key={symbol}>
              <dt>{written}</dt>
              <dd>{name}</dd>
            </div>
          ))}
      </dl>
      {rules.length ? <Rules rules={rules} /> : null}
      {inputs.length ? <Inputs inputs={inputs} /> : null}
      {told.sensors.length ? <SensorsUsed sensors={told.sensors} /> : null}
      {told.defaults.length ? <DefaultsUsed defaults={told.defaults} /> : null}
      {told.cashFlows.length ? <CashFlows flows={told.cashFlows} currency={moneyOf(told)} /> : null}
      {basis ? (
        <p>
          Basis: {BASIS_NAMES[basis]}.{' '}
          {told.low !== null && told.high !== null
            ? `95 % interval: ${endsText({ low: told.low, high: told.high }, told.unit)}.`
            : null}
        </p>
      ) : null}
      {told.intervalParts.length ? <IntervalParts parts={told.intervalParts} unit={told.unit} /> : null}
      {takenAsExact.length && told.low !== null ? (
        <p className="small soft">
          Taken as exact, and not in the interval: {takenAsExact.map(({ message }) => message).join('; ')}.
        </p>
      ) : null}
      {narrowing ? (
        <p>
          <strong>What would narrow it most:</strong> {narrowing.message}{' '}
          <span className="soft">
            {narrowing.name}
            {narrowing.column ? ` (${narrowing.column})` : ''}; were it known exactly,{' '}
            {narrowing.narrowerShare > NEARLY_ALL
              ? 'next to nothing of the interval would be left.'
              : `the interval would be ${percent(narrowing.narrowerShare)} narrower.`}
          </span>
        </p>
      ) : null}
    </>
  )
}

/** The currency of a table of flows, from the investment that begins it. */
const moneyOf = ({ inputs }: DescribedExplanation) =>
  inputs.find(({ symbol }) => symbol === 'investment')?.unit ?? ''

function Rules({ rules }: { rules: DescribedExplanation['rules'] }) {
  return (
    <Scroll label="How its flows and powers were reached">
      <table>
        <caption>How its flows and powers were reached with these sensors</caption>
        <thead>
          <tr>
            <th scope="col">Rule</th>
            <th scope="col">In</th>
            <th scope="col" className="num">
              Time <span className="unit">h</span>
            </th>
            <th scope="col" className="num">
              Of the log
            </th>
            <th scope="col" className="num">
              Mean
            </th>
          </tr>
        </thead>
        <tbody>
          {rules.map((rule) => (
            <tr key={rule.message + rule.kinds.join()}>
              <th scope="row">{rule.message}</th>
              <td>{phasesText(rule.kinds)}</td>
              <td className="num">{number(rule.hours)}</td>
              <td className="num">{percent(rule.timeShare)}</td>
              <td className="num">
                {rule.mean === null ? '' : `${inUnit(rule.mean, rule.unit)} ${unitText(rule.unit)}`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}

function Inputs({ inputs }: { inputs: DescribedExplanation['inputs'] }) {
  return (
    <Scroll label="Inputs">
      <table>
        <caption>Inputs</caption>
        <thead>
          <tr>
            <th scope="col">Input</th>
            <th scope="col" className="num">
              Value
            </th>
            <th scope="col">From</th>
          </tr>
        </thead>
        <tbody>
          {inputs.map((one, k) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: inputs never move, and one symbol may stand in several rules
            <tr key={`${one.symbol} ${k}`}>
              <th scope="row">
                {one.name}
                {one.kinds ? <span className="how">{phasesText(one.kinds)}</span> : null}
              </th>
              <td className="num">
                {typeof one.value === 'string' ? one.value : asEntered(one.value, one.unit)}{' '}
                {unitText(one.unit)}
                {isFoundElse(one) ? (
                  <span className="how">this log: {inUnit(one.found ?? 0, one.unit)}</span>
                ) : null}
              </td>
              <td>
                {inputSources[one.source]}
                <Origin input={one} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}

/** Where a value comes from: a sensor by its column, all else in words; nothing where the value is named so itself. */
function Origin({
  input: { from, source, symbol, name },
}: {
  input: DescribedExplanation['inputs'][number]
}) {
  if (!from || from === symbol) return null
  const words = source === 'sensor' ? from : originName(from)
  return words === name ? null : <span className="how">{words}</span>
}

/** Whether the log made of an entry something that reads different. */
const isFoundElse = ({ value, found, unit }: DescribedExplanation['inputs'][number]) =>
  found !== null && typeof value === 'number' && inUnit(found, unit) !== inUnit(value, unit)
