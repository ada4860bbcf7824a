/** A bar from the lower to the higher value on a scale that all bars share, with a line at the centre. */
export function SwingBar({
  low,
  high,
  centre,
  least,
  most,
}: {
  low: number
  high: number
  centre: number
  least: number
  most: number
}) {
  const span = most - least || 1
  const at = (value: number) => ((value - least) * 100) / span
  return (
    <svg className="ladder swing" viewBox="0 0 100 20" preserveAspectRatio="none" aria-hidden="true">
      <rect
        x={at(low)}
        y="4"
        width={Math.max(0.4, at(high) - at(low))}
        height="12"
        style={{ fill: 'var(--stream-work)' }}
      />
      <line
        x1={at(centre)}
        x2={at(centre)}
        y1="0"
        y2="20"
        style={{ stroke: 'var(--ink)' }}
        strokeWidth="1.5"
        vectorEffect="non-scaling-stroke"
      />
    </svg>
  )
}
