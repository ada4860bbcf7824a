import { number, rough } from '@/app/_ui/format'
import { OPTION_WORDS } from '@/app/_ui/labels'
import type { CostCurve } from './cost-curve-layout'

const WIDTH = 720
const HEIGHT = 240
const LEFT = 12
const RIGHT = 12
const TOP = 26
const BOTTOM = 40

/** What each further kWh costs, step by step of the best set, against what a kWh costs now. */
export function CostCurvePicture({ curve, currency }: { curve: CostCurve; currency: string }) {
  const { steps, wholeKWh, highest, pricePerKWh } = curve
  if (!(wholeKWh > 0) || !(highest > 0)) return null
  const across = (kWh: number) => LEFT + ((WIDTH - LEFT - RIGHT) * kWh) / wholeKWh
  const up = (cost: number) => HEIGHT - BOTTOM - ((HEIGHT - TOP - BOTTOM) * cost) / highest
  const summary = steps
    .map(
      ({ option, addedKWh, costPerSavedKWh }) =>
        `${OPTION_WORDS[option].title}: ${rough(addedKWh)} kWh a year at ${number(costPerSavedKWh)} ${currency}/kWh`,
    )
    .join('; ')
  return (
    <svg
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      style={{ display: 'block', width: '100%', maxWidth: `${WIDTH}px`, fontSize: '13px' }}
      role="img"
      aria-label={`Cost of each further kWh saved. ${summary}.`}
    >
      {steps.map(({ option, fromKWh, toKWh, costPerSavedKWh }, k) =>
        toKWh > fromKWh && costPerSavedKWh !== null ? (
          <g key={option}>
            <rect
              x={across(fromKWh)}
              y={up(costPerSavedKWh)}
              width={Math.max(1, across(toKWh) - across(fromKWh))}
              height={Math.max(1, up(0) - up(costPerSavedKWh))}
              style={{ fill: 'var(--stream-work)', stroke: 'var(--sheet)' }}
            />
            <text
              x={(across(fromKWh) + across(toKWh)) / 2}
              y={up(costPerSavedKWh) - 5}
              textAnchor="middle"
              style={{ fill: 'var(--ink)' }}
            >
              {k + 1}
            </text>
          </g>
        ) : null,
      )}
      <line x1={LEFT} x2={WIDTH - RIGHT} y1={up(0)} y2={up(0)} style={{ stroke: 'var(--rule-strong)' }} />
      {pricePerKWh !== null ? (
        <g>
          <line
            x1={LEFT}
            x2={WIDTH - RIGHT}
            y1={up(pricePerKWh)}
            y2={up(pricePerKWh)}
            strokeDasharray="6 4"
            style={{ stroke: 'var(--ink)' }}
          />
          <text x={WIDTH - RIGHT} y={up(pricePerKWh) - 5} textAnchor="end" style={{ fill: 'var(--ink)' }}>
            a kWh costs now {number(pricePerKWh)} {currency}
          </text>
        </g>
      ) : null}
      <text x={LEFT} y={HEIGHT - 14} style={{ fill: 'var(--ink-soft)' }}>
        0 kWh/yr saved
      </text>
      <text x={WIDTH - RIGHT} y={HEIGHT - 14} textAnchor="end" style={{ fill: 'var(--ink-soft)' }}>
        {rough(wholeKWh)} kWh/yr
      </text>
    </svg>
  )
}
