import { rough } from '@/app/_ui/format'
import type { ProofLogRow } from '@/lib/contract/proof'

const WIDTH = 720
const HEIGHT = 220
const LEFT = 12
const RIGHT = 12
const TOP = 24
const BOTTOM = 40

/** The running sum of used − expected, log by log: up is worse, down is saved. */
export function CusumCurve({ rows }: { rows: readonly ProofLogRow[] }) {
  const sums = [0, ...rows.map(({ cusumKWh }) => cusumKWh)]
  const [low, high] = [Math.min(...sums), Math.max(...sums)]
  if (!(high > low)) return null
  const across = (k: number) => LEFT + ((WIDTH - LEFT - RIGHT) * k) / rows.length
  const up = (kWh: number) => HEIGHT - BOTTOM - ((HEIGHT - TOP - BOTTOM) * (kWh - low)) / (high - low)
  const first = rows.findIndex(({ side }) => side === 'comparison')
  const alarm = rows.findIndex((row) => row.alarm !== null)
  const last = rows[rows.length - 1]
  return (
    <svg
      className="drawn"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      style={{ maxWidth: `${WIDTH}px` }}
      role="img"
      aria-label={`Running sum of used less expected energy over ${rows.length} logs, up is worse; it ends at ${rough(last.cusumKWh)} kWh.`}
    >
      <line x1={LEFT} x2={WIDTH - RIGHT} y1={up(0)} y2={up(0)} style={{ stroke: 'var(--rule-strong)' }} />
      {first >= 0 ? (
        <line
          x1={across(first)}
          x2={across(first)}
          y1={TOP - 12}
          y2={HEIGHT - BOTTOM}
          strokeDasharray="4 4"
          style={{ stroke: 'var(--ink)' }}
        />
      ) : null}
      <polyline
        points={sums.map((kWh, k) => `${across(k)},${up(kWh)}`).join(' ')}
        style={{ fill: 'none', stroke: 'var(--stream-work)', strokeWidth: 2 }}
      />
      {rows.map((row, k) => (
        <circle
          key={row.logId}
          cx={across(k + 1)}
          cy={up(row.cusumKWh)}
          r={k === alarm ? 6 : 3}
          style={{
            fill: k === alarm ? 'var(--sheet)' : 'var(--stream-work)',
            stroke: 'var(--stream-work)',
            strokeWidth: 2,
          }}
        />
      ))}
      <text className="soft" x={LEFT} y={TOP - 10}>
        kWh used − expected, summed: up = worse
      </text>
      <text className="soft" x={WIDTH - RIGHT} y={HEIGHT - 14} textAnchor="end">
        ends at {rough(last.cusumKWh)} kWh
      </text>
      <text className="soft" x={LEFT} y={HEIGHT - 14}>
        {alarm >= 0 ? 'ring: where the rule first tells a change' : 'the rule tells no change'}
      </text>
    </svg>
  )
}
