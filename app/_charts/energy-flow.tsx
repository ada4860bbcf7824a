import { estimate, number, percent } from '@/app/_ui/format'
import { Scroll } from '@/app/_ui/scroll'
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

/** The flow of energy from the meter to the work: widths are energies, losses fall away in order. */
export function EnergyFlow({ ledger }: { ledger: LedgerKWh }) {
  const { branches, input } = layoutFlow(ledger, WIDTH - LEFT - RIGHT, TRUNK)
  if (!(input > 0)) return <p className="nodata">No electric input in this log: nothing to draw.</p>
  const arriving = branches[branches.length - 1]
  const losses = branches.filter((branch) => branch.falls)
  const floorY = TOP + TRUNK + DROP
  const share = (branch: Branch) => percent(branch.kWh / input)
  const summary = `Of ${estimate(ledger.electricIn, 'kWh')}: ${branches
    .map((branch) => `${DESTINATIONS[branch.stream].label.toLowerCase()} ${share(branch)}`)
    .join(', ')}.`
  return (
    <figure style={{ margin: 0 }}>
      <Scroll label="Energy flow picture">
        <svg
          className="flow"
          viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
          role="img"
          aria-label={summary}
          style={{ minWidth: 640 }}
        >
          <text x={LEFT - 12} y={TOP + TRUNK / 2 - 8} textAnchor="end" fontWeight="600">
            Electric input
          </text>
          <text x={LEFT - 12} y={TOP + TRUNK / 2 + 10} textAnchor="end" className="soft">
            {number(input)} kWh
          </text>
          {losses.map((branch) => (
            <Falling key={branch.stream} branch={branch} floorY={floorY} />
          ))}
          <rect
            className="edge"
            x={LEFT}
            y={TOP}
            width={WIDTH - LEFT - RIGHT}
            height={Math.max(1, arriving.thickness)}
            style={{ fill: `var(${DESTINATIONS[arriving.stream].token})` }}
          />
          <text x={WIDTH - RIGHT + 12} y={TOP + arriving.thickness / 2 - 3} fontWeight="600">
            {DESTINATIONS[arriving.stream].label}
          </text>
          <text x={WIDTH - RIGHT + 12} y={TOP + arriving.thickness / 2 + 14} className="soft">
            {share(arriving)} · {number(arriving.kWh)} kWh
          </text>
          {losses.map((branch) => (
            <g key={branch.stream}>
              <text
                x={LEFT + branch.leaveX + Math.max(8, branch.thickness) / 2}
                y={floorY + 20}
                textAnchor="middle"
                fontWeight="600"
              >
                {DESTINATIONS[branch.stream].label}
              </text>
              <text
                x={LEFT + branch.leaveX + Math.max(8, branch.thickness) / 2}
                y={floorY + 37}
                textAnchor="middle"
                className="soft"
              >
                {share(branch)}
              </text>
              <text
                x={LEFT + branch.leaveX + Math.max(8, branch.thickness) / 2}
                y={floorY + 53}
                textAnchor="middle"
                className="soft"
              >
                {number(branch.kWh)} kWh
              </text>
            </g>
          ))}
        </svg>
      </Scroll>
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

/** A loss: it runs in the trunk from the meter, bends, and falls to the floor as heat. */
function Falling({ branch, floorY }: { branch: Branch; floorY: number }) {
  const top = TOP + branch.top
  const bottom = top + branch.thickness
  const width = Math.max(1, branch.thickness)
  const x = LEFT + branch.leaveX
  const inner = Math.min(14, floorY - bottom)
  const outer = inner + width
  const path = [
    `M${LEFT} ${top}H${x + width - outer}`,
    `Q${x + width} ${top} ${x + width} ${Math.min(floorY, top + outer)}`,
    `V${floorY}H${x}V${bottom + inner}`,
    `Q${x} ${bottom} ${x - inner} ${bottom}`,
    `H${LEFT}Z`,
  ].join('')
  return <path className="edge" d={path} style={{ fill: `var(${DESTINATIONS[branch.stream].token})` }} />
}
