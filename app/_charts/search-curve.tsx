import { percent } from '@/app/_ui/format'
import { flatText, type Search } from '@/app/_ui/machine/option-flat'
import { settingText, settingWords } from '@/app/_ui/machine/option-setting'

const WIDTH = 420
const HEIGHT = 170
const LEFT = 8
const RIGHT = 8
const TOP = 22
const BOTTOM = 34
const DOT = 3.2

/** Saving along one setting: every value tried, those within a point of the most, and where the setting stands. */
export function SearchCurve({
  search,
  found,
  moved,
}: {
  search: Search
  found: number | null
  moved: number | null
}) {
  const { setting, tried, flat } = search
  const shares = tried.map(({ savedShare }) => savedShare)
  const [least, most] = [Math.min(0, ...shares), Math.max(0.001, ...shares)]
  const [from, to] = [tried[0].value, tried[tried.length - 1].value]
  const across = (value: number) => LEFT + ((WIDTH - LEFT - RIGHT) * (value - from)) / (to - from)
  const up = (share: number) => HEIGHT - BOTTOM - ((HEIGHT - TOP - BOTTOM) * (share - least)) / (most - least)
  const { name } = settingWords(setting)
  const mark = (value: number | null, dashes: string | undefined) =>
    value === null || value < from || value > to ? null : (
      <line
        x1={across(value)}
        x2={across(value)}
        y1={TOP - 6}
        y2={HEIGHT - BOTTOM}
        strokeDasharray={dashes}
        style={{ stroke: 'var(--ink)' }}
      />
    )
  return (
    <svg
      className="search"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`Saving along ${name.toLowerCase()}, ${tried.length} values tried. ${flatText(search)}`}
    >
      {flat && flat.to > flat.from ? (
        <rect
          x={across(flat.from)}
          y={TOP}
          width={across(flat.to) - across(flat.from)}
          height={HEIGHT - TOP - BOTTOM}
          style={{ fill: 'var(--good-bg)' }}
        />
      ) : null}
      <line x1={LEFT} x2={WIDTH - RIGHT} y1={up(0)} y2={up(0)} style={{ stroke: 'var(--rule-strong)' }} />
      {mark(found, '4 4')}
      {mark(moved, undefined)}
      <polyline
        points={tried.map(({ value, savedShare }) => `${across(value)},${up(savedShare)}`).join(' ')}
        style={{ fill: 'none', stroke: 'var(--stream-work)', strokeWidth: 1.5 }}
      />
      {tried.map(({ value, savedShare, feasible }) => (
        <circle
          key={value}
          cx={across(value)}
          cy={up(savedShare)}
          r={DOT}
          style={{ fill: feasible ? 'var(--stream-work)' : 'var(--sheet)', stroke: 'var(--stream-work)' }}
        />
      ))}
      <text x={LEFT} y={TOP - 9} style={{ fill: 'var(--ink-soft)' }}>
        up to {percent(most, 3)} saved
      </text>
      <text x={LEFT} y={HEIGHT - 12} style={{ fill: 'var(--ink-soft)' }}>
        {settingText(setting, from)}
      </text>
      <text x={WIDTH - RIGHT} y={HEIGHT - 12} textAnchor="end" style={{ fill: 'var(--ink-soft)' }}>
        {settingText(setting, to)}
      </text>
    </svg>
  )
}
