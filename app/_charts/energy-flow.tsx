import { estimate, number, percent } from '@/app/_ui/format'
import { DESTINATIONS } from '@/app/_ui/streams'
import type { LedgerKWh } from '@/lib/contract/result'
import { type Branch, layoutFlow } from './energy-flow-layout'

const WIDTH = 1040
const TRUNK = 170
const LEFT = 118
const RIGHT = 160
const TOP = 34
const DROP = 66
const HEIGHT = TOP + TRUNK + DROP + 74

/** On a phone the trunk runs downwards and losses leave to the right, where their names stand. */
const NARROW = { width: 340, trunk: 116, left: 6, top: 44, drop: 30, slot: 46, foot: 48 }

interface Drawing {
  readonly branches: readonly Branch[]
  readonly length: number
  readonly summary: string
  readonly input: number
}

const share = (branch: Branch, input: number) => percent(branch.kWh / input)
const token = (branch: Branch) => `var(${DESTINATIONS[branch.stream].token})`

/** The flow of energy from the meter to the work: widths are energies, losses fall away in order. */
export function EnergyFlow({ ledger }: { ledger: LedgerKWh }) {
  const wide = layoutFlow(ledger, WIDTH - LEFT - RIGHT, TRUNK)
  const { input } = wide
  if (!(input > 0)) return <p className="nodata">No electric input in this log: nothing to draw.</p>
  const narrow = layoutFlow(ledger, 0, NARROW.trunk, NARROW.slot)
  const summary = `Of ${estimate(ledger.electricIn, 'kWh')}: ${wide.branches
    .map((branch) => `${DESTINATIONS[branch.stream].label.toLowerCase()} ${share(branch, input)}`)
    .join(', ')}.`
  return (
    <figure style={{ margin: 0 }}>
      <WideFlow {...wide} summary={summary} />
      <NarrowFlow {...narrow} summary={summary} />
      <figcaption className="small soft">
        {summary}
        {ledger.unaccounted.value < 0
          ? ` The streams exceed the input by ${number(-ledger.unaccounted.value)} kWh (unaccounted).`
          : ''}
        {ledger.work ? '' : ' Metering and work cannot be told apart without a load pressure sensor.'}
      </figcaption>
    </figure>
  )
}

/** One loss as it leaves the trunk; `point` turns along and across into the picture's x and y. */
function BranchShape({
  branch,
  at,
  point,
}: {
  branch: Branch
  at: Parameters<typeof branchPath>[1]
  point: Parameters<typeof branchPath>[2]
}) {
  return <path className="edge" d={branchPath(branch, at, point)} style={{ fill: token(branch) }} />
}

function WideFlow({ branches, summary, input }: Drawing) {
  const arriving = branches[branches.length - 1]
  const losses = branches.filter((branch) => branch.falls)
  const floorY = TOP + TRUNK + DROP
  const middle = (branch: Branch) => LEFT + branch.leaveX + Math.max(8, branch.thickness) / 2
  return (
    <svg className="flow flow-wide" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={summary}>
      <text x={LEFT - 12} y={TOP + TRUNK / 2 - 8} textAnchor="end" fontWeight="600">
        Electric input
      </text>
      <text x={LEFT - 12} y={TOP + TRUNK / 2 + 10} textAnchor="end" className="soft">
        {number(input)} kWh
      </text>
      {losses.map((branch) => (
        <BranchShape
          key={branch.stream}
          branch={branch}
          at={{ along: LEFT, across: TOP, floor: floorY }}
          point={(x, y) => `${x} ${y}`}
        />
      ))}
      <rect
        className="edge"
        x={LEFT}
        y={TOP}
        width={WIDTH - LEFT - RIGHT}
        height={Math.max(1, arriving.thickness)}
        style={{ fill: token(arriving) }}
      />
      <text x={WIDTH - RIGHT + 12} y={TOP + arriving.thickness / 2 - 3} fontWeight="600">
        {DESTINATIONS[arriving.stream].label}
      </text>
      <text x={WIDTH - RIGHT + 12} y={TOP + arriving.thickness / 2 + 14} className="soft">
        {share(arriving, input)} · {number(arriving.kWh)} kWh
      </text>
      {losses.map((branch) => (
        <g key={branch.stream} textAnchor="middle">
          <text x={middle(branch)} y={floorY + 20} fontWeight="600">
            {DESTINATIONS[branch.stream].label}
          </text>
          <text x={middle(branch)} y={floorY + 37} className="soft">
            {share(branch, input)}
          </text>
          <text x={middle(branch)} y={floorY + 53} className="soft">
            {number(branch.kWh)} kWh
          </text>
        </g>
      ))}
    </svg>
  )
}

function NarrowFlow({ branches, length, summary, input }: Drawing) {
  const { width, trunk, left, top, drop, foot } = NARROW
  const arriving = branches[branches.length - 1]
  const losses = branches.filter((branch) => branch.falls)
  const floorX = left + trunk + drop
  const middle = (branch: Branch) => top + branch.leaveX + branch.thickness / 2
  return (
    <svg
      className="flow flow-narrow"
      viewBox={`0 0 ${width} ${top + length + foot}`}
      role="img"
      aria-label={summary}
    >
      <text x={left} y={16} fontWeight="600">
        Electric input
      </text>
      <text x={left} y={33} className="soft">
        {number(input)} kWh
      </text>
      {losses.map((branch) => (
        <BranchShape
          key={branch.stream}
          branch={branch}
          at={{ along: top, across: left, floor: floorX }}
          point={(y, x) => `${x} ${y}`}
        />
      ))}
      <rect
        className="edge"
        x={left}
        y={top}
        width={Math.max(1, arriving.thickness)}
        height={length}
        style={{ fill: token(arriving) }}
      />
      {losses.map((branch) => (
        <g key={branch.stream}>
          <text x={floorX + 10} y={middle(branch) - 3} fontWeight="600">
            {DESTINATIONS[branch.stream].label}
          </text>
          <text x={floorX + 10} y={middle(branch) + 14} className="soft">
            {share(branch, input)} · {number(branch.kWh)} kWh
          </text>
        </g>
      ))}
      <text x={left} y={top + length + 20} fontWeight="600">
        {DESTINATIONS[arriving.stream].label}
      </text>
      <text x={left} y={top + length + 37} className="soft">
        {share(arriving, input)} · {number(arriving.kWh)} kWh
      </text>
    </svg>
  )
}

/**
 * A loss: it runs in the trunk from the meter, bends, and leaves it as heat.
 * @param from where trunk and floor are: along and across the trunk
 * @param at turns a place along and across the trunk into x and y
 */
function branchPath(
  branch: Branch,
  from: { readonly along: number; readonly across: number; readonly floor: number },
  at: (along: number, across: number) => string,
): string {
  const near = from.across + branch.top
  const far = near + branch.thickness
  const width = Math.max(1, branch.thickness)
  const leave = from.along + branch.leaveX
  const inner = Math.min(14, from.floor - far)
  const outer = inner + width
  return [
    `M${at(from.along, near)}L${at(leave + width - outer, near)}`,
    `Q${at(leave + width, near)} ${at(leave + width, Math.min(from.floor, near + outer))}`,
    `L${at(leave + width, from.floor)}L${at(leave, from.floor)}L${at(leave, far + inner)}`,
    `Q${at(leave, far)} ${at(leave - inner, far)}`,
    `L${at(from.along, far)}Z`,
  ].join('')
}
