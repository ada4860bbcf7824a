import { monthName, percent } from '@/app/_ui/format'

const WIDTH = 84
const HEIGHT = 22
const EDGE = 3

/** A share over months in the height of a line of text; its text names the first, the last and the extremes. */
export function Sparkline({
  values,
  months,
  most,
  name,
}: {
  values: readonly (number | null)[]
  months: readonly string[]
  /** Top of the scale, the same for all that stand beneath each other. */
  most: number
  name: string
}) {
  const known = values.flatMap((value, k) => (value === null ? [] : [{ value, k }]))
  if (known.length === 0) return <span className="nodata">no data</span>
  const x = (k: number) => EDGE + ((WIDTH - 2 * EDGE) * k) / Math.max(1, values.length - 1)
  const y = (value: number) => HEIGHT - EDGE - ((HEIGHT - 2 * EDGE) * value) / (most || 1)
  // A month without a log breaks the line.
  const line = known
    .map(
      ({ value, k }) =>
        `${k > 0 && values[k - 1] !== null ? 'L' : 'M'}${x(k).toFixed(1)} ${y(value).toFixed(1)}`,
    )
    .join('')
  const [first, last] = [known[0], known[known.length - 1]]
  const at = ({ value, k }: { value: number; k: number }) => `${percent(value)} in ${monthName(months[k])}`
  const text =
    known.length === 1
      ? `${name} ${at(first)}`
      : `${name} from ${at(first)} to ${at(last)}, ${known.length} months with logs`
  return (
    <svg
      className="sparkline"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      width={WIDTH}
      height={HEIGHT}
      role="img"
      aria-label={text}
    >
      <title>{text}</title>
      <path d={line} fill="none" style={{ stroke: 'var(--ink-soft)' }} strokeWidth={1.4} />
      {known
        .filter(({ k }) => values[k - 1] == null && values[k + 1] == null)
        .map(({ value, k }) => (
          <circle key={k} cx={x(k)} cy={y(value)} r={1.4} style={{ fill: 'var(--ink-soft)' }} />
        ))}
      <circle cx={x(last.k)} cy={y(last.value)} r={2.4} style={{ fill: 'var(--stream-over-relief)' }} />
    </svg>
  )
}
