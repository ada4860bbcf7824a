import { number, tick } from '@/app/_ui/format'
import type { Ink } from './ink'

/** What every drawing in the pressure–flow plane has: axes from nil, grid and what a point says. */
export function dutyFrame(flowTitle: string, ink: Ink) {
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
      valueFormatter: (value: unknown) =>
        Array.isArray(value) ? `${number(Number(value[0]))} L/min at ${number(Number(value[1]))} bar` : '',
    },
    xAxis: { ...axis, name: `${flowTitle}, L/min`, nameLocation: 'middle', nameGap: 28 },
    yAxis: { ...axis, name: 'Pump pressure, bar', nameTextStyle: { ...axis.nameTextStyle, align: 'left' } },
  } as const
}
