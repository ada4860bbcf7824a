import { number, rough } from '@/app/_ui/format'

const WIDTH = 720
const HEIGHT = 240
const LEFT = 12
const RIGHT = 12
const TOP = 26
const BOTTOM = 40
/** A step narrower than this has no room for its number. */
const LEAST_NAMED = 16
/** One narrower than this has none for an edge. */
const LEAST_EDGED = 4

/** One step: its place along the energy saved, and what a kWh of it costs; null where that is not known. */
export interface Step {
  readonly key: string
  readonly fromKWh: number
  readonly toKWh: number
  readonly costPerSavedKWh: number | null
}

/** What each further kWh costs, step by step along the energy saved, against what a kWh costs now. */
export function StepCurve({
  steps,
  pricePerKWh,
  currency,
  summary,
}: {
  steps: readonly Step[]
  pricePerKWh: number | null
  currency: string
  /** The same in words. */
  summary: string
}) {
  const wholeKWh = Math.max(0, ...steps.map(({ toKWh }) => toKWh))
  const costs = [0, pricePerKWh ?? 0, ...steps.map(({ costPerSavedKWh }) => costPerSavedKWh ?? 0)]
  const [lowest, highest] = [Math.min(...costs), Math.max(...costs)]
  if (!(wholeKWh > 0) || highest === lowest) return null
  const across = (kWh: number) => LEFT + ((WIDTH - LEFT - RIGHT) * kWh) / wholeKWh
  const up = (cost: number) =>
    HEIGHT - BOTTOM - ((HEIGHT - TOP - BOTTOM) * (cost - lowest)) / (highest - lowest)
  const line = (cost: number) => ({ x1: LEFT, x2: WIDTH - RIGHT, y1: up(cost), y2: up(cost) })
  return (
    <svg
      className="drawn"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      style={{ maxWidth: `${WIDTH}px` }}
      role="img"
      aria-label={`Cost of each further kWh saved. ${summary}.`}
    >
      {steps.map(({ key, fromKWh, toKWh, costPerSavedKWh }, k) => {
        if (costPerSavedKWh === null || toKWh <= fromKWh) return null
        const width = Math.max(1, across(toKWh) - across(fromKWh))
        const [top, bottom] = [up(Math.max(0, costPerSavedKWh)), up(Math.min(0, costPerSavedKWh))]
        return (
          <g key={key}>
            <rect
              x={across(fromKWh)}
              y={top}
              width={width}
              height={Math.max(1, bottom - top)}
              style={{
                fill: 'var(--stream-work)',
                stroke: 'var(--sheet)',
                strokeWidth: width < LEAST_EDGED ? 0 : 1,
              }}
            />
            {width >= LEAST_NAMED ? (
              <text x={across(fromKWh) + width / 2} y={top - 5} textAnchor="middle">
                {k + 1}
              </text>
            ) : null}
          </g>
        )
      })}
      <line {...line(0)} style={{ stroke: 'var(--rule-strong)' }} />
      {pricePerKWh === null ? null : (
        <>
          <line {...line(pricePerKWh)} strokeDasharray="6 4" style={{ stroke: 'var(--ink)' }} />
          <text x={LEFT} y={up(pricePerKWh) - 6}>
            a kWh costs now {number(pricePerKWh)} {currency}
          </text>
        </>
      )}
      <text className="soft" x={LEFT} y={HEIGHT - 14}>
        0 kWh/yr saved
      </text>
      <text className="soft" x={WIDTH - RIGHT} y={HEIGHT - 14} textAnchor="end">
        {rough(wholeKWh)} kWh/yr
      </text>
    </svg>
  )
}
