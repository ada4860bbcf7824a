import { PHASES } from '@/app/_ui/streams'
import type { PhaseKind } from '@/lib/contract/result'
import { dutyFrame } from './duty-frame'
import type { Ink } from './ink'
import type { ChartOption } from './option-type'

/** One stretch of the log in the pressure–flow plane. */
export interface DutyPoint {
  readonly flowLpm: number
  readonly pressureBar: number
  readonly kind: PhaseKind
}

export interface ReliefLine {
  readonly crackingBar: number
  readonly settingBar: number
  readonly overrideBarPerLpm: number
}

export interface DutyDrawing {
  readonly points: readonly DutyPoint[]
  readonly flowTitle: string
  readonly relief: ReliefLine | null
}

/** Time spent in the pressure–flow plane by phase, with the relief's fitted line through it. */
export function dutyOption({ points, flowTitle, relief }: DutyDrawing, ink: Ink): ChartOption {
  const kinds = [...new Set(points.map((point) => point.kind))]
  const mostFlow = Math.max(1, ...points.map((point) => point.flowLpm))
  const line = relief
    ? [
        [0, relief.crackingBar],
        [mostFlow, relief.crackingBar + relief.overrideBarPerLpm * mostFlow],
      ]
    : []
  return {
    ...dutyFrame(flowTitle, ink),
    series: [
      ...kinds.map((kind) => ({
        type: 'scatter' as const,
        name: PHASES[kind].label,
        symbolSize: 4,
        large: points.length > 2000,
        itemStyle: {
          color: ink.token(PHASES[kind].token),
          opacity: 0.5,
          borderColor: ink.soft,
          borderWidth: 0.3,
        },
        data: points
          .filter((point) => point.kind === kind)
          .map((point) => [point.flowLpm, point.pressureBar]),
      })),
      ...(line.length
        ? [
            {
              type: 'line' as const,
              name: 'Relief as fitted',
              symbol: 'none' as const,
              silent: true,
              z: 5,
              lineStyle: { color: ink.ink, width: 2 },
              itemStyle: { color: ink.ink },
              data: line,
            },
          ]
        : []),
    ],
  }
}
