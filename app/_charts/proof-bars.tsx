import { rough } from '@/app/_ui/format'
import type { ProofLogRow } from '@/lib/contract/proof'

const WIDTH = 720
const HEIGHT = 220
const LEFT = 12
const RIGHT = 12
const TOP = 24
const BOTTOM = 40

/** Log by log: what was used as a bar, what the baseline expects as a line across it. */
export function ProofBars({ rows }: { rows: readonly ProofLogRow[] }) {
  const most = Math.max(...rows.flatMap(({ actualKWh, expectedKWh }) => [actualKWh, expectedKWh]))
  if (!(most > 0)) return null
  const step = (WIDTH - LEFT - RIGHT) / rows.length
  const up = (kWh: number) => HEIGHT - BOTTOM - ((HEIGHT - TOP - BOTTOM) * Math.max(0, kWh)) / most
  const first = rows.findIndex(({ side }) => side === 'comparison')
  const sum = (side: ProofLogRow['side'], of: 'actualKWh' | 'expectedKWh') =>
    rows.filter((row) => row.side === side).reduce((total, row) => total + row[of], 0)
  const said = (side: ProofLogRow['side'], when: string) =>
    `${when} the change ${rough(sum(side, 'actualKWh'))} kWh used of ${rough(sum(side, 'expectedKWh'))} expected`
  const edge = LEFT + first * step
  return (
    <svg
      className="drawn"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      style={{ maxWidth: `${WIDTH}px` }}
      role="img"
      aria-label={`Used and expected energy of ${rows.length} logs: ${said('baseline', 'before')}, ${said('comparison', 'after')}.`}
    >
      {rows.map((row, k) => {
        const x = LEFT + k * step + step * 0.2
        const isNew = row.side === 'comparison'
        return (
          <g key={row.logId}>
            <rect
              x={x}
              y={up(row.actualKWh)}
              width={step * 0.6}
              height={up(0) - up(row.actualKWh)}
              style={{ fill: isNew ? 'var(--stream-work)' : 'var(--stream-into-system)' }}
            />
            <line
              x1={x - step * 0.1}
              x2={x + step * 0.7}
              y1={up(row.expectedKWh)}
              y2={up(row.expectedKWh)}
              style={{ stroke: 'var(--ink)', strokeWidth: 2.5 }}
            />
          </g>
        )
      })}
      <line x1={LEFT} x2={WIDTH - RIGHT} y1={up(0)} y2={up(0)} style={{ stroke: 'var(--rule-strong)' }} />
      {first > 0 ? (
        <g>
          <line
            x1={edge}
            x2={edge}
            y1={TOP - 12}
            y2={up(0)}
            strokeDasharray="4 4"
            style={{ stroke: 'var(--ink)' }}
          />
          <text className="soft" x={edge + 6} y={TOP - 4}>
            after
          </text>
        </g>
      ) : null}
      <text className="soft" x={LEFT} y={TOP - 10}>
        up to {rough(most)} kWh a log
      </text>
      <text className="soft" x={LEFT} y={HEIGHT - 14}>
        bar: used · line across: expected by the baseline
      </text>
    </svg>
  )
}
