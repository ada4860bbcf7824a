import type { Estimate } from '@/lib/contract/estimate'

/** One rung: the saving as a bar with its 95 % interval as a whisker, on the scale all rungs share. */
export function LadderBar({ estimate, most, least }: { estimate: Estimate; most: number; least: number }) {
  const span = most - least || 1
  const at = (x: number) => (Math.min(most, Math.max(least, x)) - least) * (100 / span)
  const zero = at(0)
  const tip = at(estimate.value)
  return (
    <svg className="ladder" viewBox="0 0 100 20" preserveAspectRatio="none" aria-hidden="true">
      <rect
        x={Math.min(zero, tip)}
        y="4"
        width={Math.max(0.4, Math.abs(tip - zero))}
        height="12"
        style={{ fill: estimate.value < 0 ? 'var(--stream-over-relief)' : 'var(--stream-work)' }}
      />
      <g style={{ stroke: 'var(--ink)' }} strokeWidth="1.5">
        <line
          x1={at(estimate.low)}
          x2={at(estimate.high)}
          y1="10"
          y2="10"
          vectorEffect="non-scaling-stroke"
        />
        <line x1={at(estimate.low)} x2={at(estimate.low)} y1="5" y2="15" vectorEffect="non-scaling-stroke" />
        <line
          x1={at(estimate.high)}
          x2={at(estimate.high)}
          y1="5"
          y2="15"
          vectorEffect="non-scaling-stroke"
        />
      </g>
      <line
        x1={zero}
        x2={zero}
        y1="0"
        y2="20"
        style={{ stroke: 'var(--rule-strong)' }}
        vectorEffect="non-scaling-stroke"
      />
    </svg>
  )
}
