import { number, rough } from '@/app/_ui/format'
import { choiceName } from '@/app/_ui/funding/choice-name'
import { Scroll } from '@/app/_ui/scroll'
import type { CostStep } from '@/lib/portfolio/cost-curve'

const WIDTH = 960
const HEIGHT = 260
const LEFT = 12
const RIGHT = 12
const TOP = 26
const BOTTOM = 40
/** A step narrower than this has no room for its number. */
const LEAST_NAMED = 16

/** Cost of each further kWh across the machines, cheapest first, against what a kWh costs now. */
export function FleetCostCurve({
  steps,
  names,
  pricePerKWh,
  currency,
}: {
  steps: readonly CostStep[]
  names: ReadonlyMap<string, string>
  pricePerKWh: number
  currency: string
}) {
  const wholeKWh = steps[steps.length - 1].toKWh
  const highest = Math.max(pricePerKWh, ...steps.map(({ costPerSavedKWh }) => costPerSavedKWh))
  const lowest = Math.min(0, ...steps.map(({ costPerSavedKWh }) => costPerSavedKWh))
  const across = (kWh: number) => LEFT + ((WIDTH - LEFT - RIGHT) * kWh) / wholeKWh
  const up = (cost: number) =>
    HEIGHT - BOTTOM - ((HEIGHT - TOP - BOTTOM) * (cost - lowest)) / (highest - lowest || 1)
  const dear = steps.filter(({ costPerSavedKWh }) => costPerSavedKWh > pricePerKWh)
  const summary = `${steps.length} machines save ${rough(wholeKWh)} kWh a year; a saved kWh costs from ${number(steps[0].costPerSavedKWh)} to ${number(steps[steps.length - 1].costPerSavedKWh)} ${currency}, a bought one ${number(pricePerKWh)} ${currency}`
  return (
    <>
      <p>
        {summary}.{' '}
        {dear.length
          ? `Dearer to save than to buy: ${dear.map(({ machineId }) => names.get(machineId)).join(', ')}.`
          : 'Every one is cheaper to save than to buy.'}
      </p>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        style={{ display: 'block', width: '100%', maxWidth: `${WIDTH}px`, fontSize: '13px' }}
        role="img"
        aria-label={`Cost of each further kWh saved. ${summary}.`}
      >
        {steps.map(({ machineId, fromKWh, toKWh, costPerSavedKWh }, k) => {
          const width = Math.max(1, across(toKWh) - across(fromKWh))
          const [top, bottom] = [up(Math.max(0, costPerSavedKWh)), up(Math.min(0, costPerSavedKWh))]
          return (
            <g key={machineId}>
              <rect
                x={across(fromKWh)}
                y={top}
                width={width}
                height={Math.max(1, bottom - top)}
                style={{ fill: 'var(--stream-work)', stroke: 'var(--sheet)', strokeWidth: width < 4 ? 0 : 1 }}
              />
              {width >= LEAST_NAMED ? (
                <text
                  x={across(fromKWh) + width / 2}
                  y={top - 5}
                  textAnchor="middle"
                  style={{ fill: 'var(--ink)' }}
                >
                  {k + 1}
                </text>
              ) : null}
            </g>
          )
        })}
        <line x1={LEFT} x2={WIDTH - RIGHT} y1={up(0)} y2={up(0)} style={{ stroke: 'var(--rule-strong)' }} />
        <line
          x1={LEFT}
          x2={WIDTH - RIGHT}
          y1={up(pricePerKWh)}
          y2={up(pricePerKWh)}
          strokeDasharray="6 4"
          style={{ stroke: 'var(--ink)' }}
        />
        <text x={LEFT} y={up(pricePerKWh) - 6} style={{ fill: 'var(--ink)' }}>
          a kWh costs now {number(pricePerKWh)} {currency}
        </text>
        <text x={LEFT} y={HEIGHT - 14} style={{ fill: 'var(--ink-soft)' }}>
          0 kWh/yr saved
        </text>
        <text x={WIDTH - RIGHT} y={HEIGHT - 14} textAnchor="end" style={{ fill: 'var(--ink-soft)' }}>
          {rough(wholeKWh)} kWh/yr
        </text>
      </svg>
      <details className="twin">
        <summary>As a table</summary>
        <Scroll label="Cost of each further kWh">
          <table>
            <caption>Cheapest kWh first; the numbers stand above the steps</caption>
            <thead>
              <tr>
                <th scope="col">Machine and fixes</th>
                <th scope="col" className="num">
                  Saved <span className="unit">kWh/yr</span>
                </th>
                <th scope="col" className="num">
                  Cost of a saved kWh <span className="unit">{currency}/kWh</span>
                </th>
                <th scope="col" className="num">
                  Saved up to here <span className="unit">kWh/yr</span>
                </th>
                <th scope="col" className="num">
                  Invested up to here <span className="unit">{currency}</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {steps.map(({ machineId, choice, fromKWh, toKWh, costPerSavedKWh, spent }, k) => (
                <tr key={machineId}>
                  <th scope="row">
                    {k + 1}. {names.get(machineId)}
                    <span className="how">{choiceName(choice)}</span>
                  </th>
                  <td className="num">{rough(toKWh - fromKWh)}</td>
                  <td className="num">{number(costPerSavedKWh)}</td>
                  <td className="num">{rough(toKWh)}</td>
                  <td className="num">{rough(spent)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      </details>
    </>
  )
}
