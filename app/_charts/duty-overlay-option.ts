import { number, tick } from '@/app/_ui/format'
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
  const axis = {
    type: 'value',
    nameTextStyle: { color: ink.soft, fontSize: 12 },
    axisLabel: { color: ink.soft, formatter: tick },
    axisLine: { show: true, lineStyle: { color: ink.soft } },
    splitLine: { lineStyle: { color: ink.rule, opacity: 0.6 } },
    min: 0,
  } as const
  return {
    animation: false,
    textStyle: { fontFamily: ink.font, color: ink.ink },
    grid: { left: 58, right: 20, top: 30, bottom: 46 },
    tooltip: {
      trigger: 'item',
      backgroundColor: ink.sheet,
      borderColor: ink.rule,
      textStyle: { color: ink.ink, fontSize: 12 },
      valueFormatter: (value) =>
        Array.isArray(value) ? `${number(Number(value[0]))} L/min at ${number(Number(value[1]))} bar` : '',
    },
    xAxis: { ...axis, name: `${flowTitle}, L/min`, nameLocation: 'middle', nameGap: 28 },
    yAxis: { ...axis, name: 'Pump pressure, bar', nameTextStyle: { ...axis.nameTextStyle, align: 'left' } },
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
