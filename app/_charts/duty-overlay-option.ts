import { dutyFrame } from './duty-frame'
import type { DutyPoint } from './duty-option'
import type { Ink } from './ink'
import type { ChartOption } from './option-type'

export interface OverlaidDuty {
  readonly name: string
  readonly points: readonly DutyPoint[]
}

/** Shape, colour and letter of each machine: shapes tell them apart in grey print. */
export const SHAPES = [
  { symbol: 'circle', mark: '●', token: '--accent' },
  { symbol: 'triangle', mark: '▲', token: '--warn' },
  { symbol: 'rect', mark: '■', token: '--good' },
  { symbol: 'diamond', mark: '◆', token: '--bad' },
] as const

/** Machines in one pressure–flow plane. */
export function overlayOption(duties: readonly OverlaidDuty[], flowTitle: string, ink: Ink): ChartOption {
  return {
    ...dutyFrame(flowTitle, ink),
    series: duties.map(({ name, points }, k) => ({
      type: 'scatter' as const,
      name,
      symbol: SHAPES[k].symbol,
      symbolSize: 6,
      itemStyle: { color: ink.token(SHAPES[k].token), opacity: 0.45 },
      data: points.map(({ flowLpm, pressureBar }) => [flowLpm, pressureBar]),
    })),
  }
}
