import { number, tick } from '@/app/_ui/format'
import { DESTINATIONS } from '@/app/_ui/streams'
import type { Phase, Stream } from '@/lib/contract/result'
import type { Ink } from './ink'
import type { ChartOption, SeriesOption } from './option-type'
import { ribbon, type Span } from './phase-ribbon'
import type { Envelope, TraceChannel } from './samples'

const MS = 1e3
const RIBBON_TOP = 8
const RIBBON_HEIGHT = 18
const TRACE_HEIGHT = 118
const ACCOUNT_HEIGHT = 190
const GAP = 34
const SLIDER = 62
const LEFT = 62
const RIGHT = 16

export interface TracePanel {
  readonly title: string
  /** Shown without being asked for. */
  readonly isUsual: boolean
  readonly unit: string
  readonly channels: readonly TraceChannel[]
}

export interface TraceDrawing {
  readonly panels: readonly TracePanel[]
  readonly streams: readonly Stream[]
  readonly envelopes: ReadonlyMap<string, Envelope>
  readonly phases: readonly Phase[]
  /** What a person corrected. */
  readonly corrected: readonly Span[]
  /** The stretch chosen, framed in the ribbon. */
  readonly picked: Span | null
  readonly durationS: number
  /** Added to elapsed ms so that the UTC axis reads as the site's clock; 0 for logs without a date. */
  readonly clockMs: number
  readonly touch: boolean
  /** Elapsed seconds in view. */
  readonly shown: { readonly from: number; readonly to: number }
}

export function traceHeight(panels: number, withAccount: boolean): number {
  const account = withAccount ? ACCOUNT_HEIGHT + GAP : 0
  return RIBBON_TOP + RIBBON_HEIGHT + panels * (TRACE_HEIGHT + GAP) + account + SLIDER
}

/** Traces beneath a phase ribbon and above the account, all on one time axis. */
export function traceOption(drawing: TraceDrawing, ink: Ink): ChartOption {
  const { panels, streams, clockMs, durationS } = drawing
  const withAccount = streams.length > 0
  // Labels must not push one grid inwards: all share one time axis.
  const across = { left: LEFT, right: RIGHT, outerBoundsMode: 'none' as const }
  const grids = [{ ...across, top: RIBBON_TOP, height: RIBBON_HEIGHT }]
  let top = RIBBON_TOP + RIBBON_HEIGHT + GAP
  for (const _panel of panels) {
    grids.push({ ...across, top, height: TRACE_HEIGHT })
    top += TRACE_HEIGHT + GAP
  }
  if (withAccount) grids.push({ ...across, top, height: ACCOUNT_HEIGHT })
  const last = grids.length - 1
  const titles = ['', ...panels.map((panel) => `${panel.title}, ${panel.unit}`), 'Account, kW'].slice(
    0,
    last + 1,
  )

  return {
    animation: false,
    useUTC: true,
    textStyle: { fontFamily: ink.font, color: ink.ink },
    grid: grids,
    axisPointer: { link: [{ xAxisIndex: 'all' }], lineStyle: { color: ink.soft } },
    tooltip: {
      trigger: 'axis',
      backgroundColor: ink.sheet,
      borderColor: ink.rule,
      textStyle: { color: ink.ink, fontSize: 12 },
      valueFormatter: (value) => (typeof value === 'number' ? number(value) : 'no data'),
      confine: true,
      // Stands beside the pointer, never on the traces that are being read.
      position: (point, _params, _dom, _rect, size) => [
        point[0] < size.viewSize[0] / 2 ? size.viewSize[0] - size.contentSize[0] - 4 : LEFT + 4,
        RIBBON_TOP,
      ],
    },
    dataZoom: [
      {
        type: 'slider',
        xAxisIndex: grids.map((_, index) => index),
        height: 22,
        bottom: 6,
        left: LEFT,
        right: RIGHT,
        showDataShadow: false,
        showDetail: false,
        brushSelect: false,
        borderColor: ink.rule,
        filterMode: 'none',
        minValueSpan: 10,
      },
      {
        type: 'inside',
        xAxisIndex: grids.map((_, index) => index),
        filterMode: 'none',
        zoomOnMouseWheel: drawing.touch ? false : 'shift',
        moveOnMouseMove: !drawing.touch,
        moveOnMouseWheel: false,
        disabled: drawing.touch,
        minValueSpan: 10,
      },
    ],
    xAxis: grids.map((_, index) => ({
      type: 'time',
      gridIndex: index,
      min: clockMs,
      max: clockMs + durationS * MS,
      axisLine: { lineStyle: { color: ink.rule } },
      axisTick: { show: index === last },
      axisLabel: {
        show: index === last,
        color: ink.soft,
        hideOverlap: true,
        ...(clockMs === 0
          ? {
              formatter: {
                year: '{HH}:{mm}',
                month: '{HH}:{mm}',
                day: '{HH}:{mm}',
                hour: '{HH}:{mm}',
                minute: '{HH}:{mm}',
                second: '{HH}:{mm}:{ss}',
                millisecond: '{ss}.{SSS}',
              },
            }
          : {}),
      },
      splitLine: { show: index > 0, lineStyle: { color: ink.rule, opacity: 0.5 } },
      axisPointer: { label: { show: index === last, color: ink.sheet, backgroundColor: ink.ink } },
    })),
    yAxis: grids.map((_, index) => ({
      type: 'value',
      gridIndex: index,
      show: index > 0,
      name: titles[index],
      nameLocation: 'end',
      nameGap: 13,
      nameTextStyle: { align: 'left', color: ink.soft, fontSize: 12, padding: [0, 0, 0, -LEFT + 8] },
      ...(index === 0 ? { max: 1 } : {}),
      splitNumber: 3,
      min: index === 0 ? 0 : floorOf,
      axisLabel: {
        color: ink.soft,
        formatter: (value: number, nth: number) => (nth === 0 && value < 0 ? '' : tick(value)),
      },
      splitLine: { lineStyle: { color: ink.rule, opacity: 0.5 } },
      axisPointer: { show: false },
    })),
    series: [
      ...ribbon(drawing, ink),
      ...panels.flatMap((panel, index) =>
        panel.channels.flatMap((channel, nth) => traceSeries(drawing, channel, index + 1, nth, ink)),
      ),
      ...(withAccount ? accountSeries(drawing, last, ink) : []),
    ],
  }
}

/** The axis begins at zero, or where readings below it begin: no whole step for a slight zero offset. */
const floorOf = ({ min }: { min: number }) => Math.min(0, min)

/** Whether what is in view are buckets; single samples are drawn as they are held, in steps. */
function isSpread(envelope: Envelope, { from, to }: TraceDrawing['shown']): boolean {
  return envelope.timeS.some((time, index) => {
    const [low, high] = [envelope.min[index], envelope.max[index]]
    return time >= from && time <= to && low !== null && high !== null && high > low
  })
}

const DASHES: readonly ('solid' | 'dashed' | 'dotted')[] = ['solid', 'dashed', 'dotted']

function traceSeries(
  drawing: TraceDrawing,
  channel: TraceChannel,
  axis: number,
  nth: number,
  ink: Ink,
): SeriesOption[] {
  const envelope = drawing.envelopes.get(channel.name)
  if (!envelope) return []
  const at = (index: number) => drawing.clockMs + envelope.timeS[index] * MS
  const colour = nth === 0 ? ink.accent : ink.ink
  const shared = { type: 'line', xAxisIndex: axis, yAxisIndex: axis, symbol: 'none', silent: true } as const
  const bare = {
    ...shared,
    lineStyle: { opacity: 0 },
    tooltip: { show: false },
    stack: `band ${channel.name}`,
  }
  const spread = isSpread(envelope, drawing.shown)
  const band: SeriesOption[] = spread
    ? [
        { ...bare, stackStrategy: 'all', data: envelope.min.map((value, index) => [at(index), value]) },
        {
          ...bare,
          stackStrategy: 'all',
          areaStyle: { color: colour, opacity: 0.22 },
          data: envelope.max.map((value, index) => {
            const low = envelope.min[index]
            return [at(index), value === null || low === null ? null : value - low]
          }),
        },
      ]
    : []
  return [
    ...band,
    {
      ...shared,
      name: `${channel.label}, ${channel.unit}`,
      step: spread ? undefined : 'end',
      lineStyle: { color: colour, width: 1.2, type: DASHES[nth % DASHES.length] },
      itemStyle: { color: colour },
      data: envelope.mean.map((value, index) => [at(index), value]),
    },
  ]
}

function accountSeries(drawing: TraceDrawing, axis: number, ink: Ink): SeriesOption[] {
  const spread = drawing.streams.some((stream) => {
    const envelope = drawing.envelopes.get(`stream:${stream}`)
    return envelope && isSpread(envelope, drawing.shown)
  })
  return drawing.streams.flatMap((stream): SeriesOption[] => {
    const envelope = drawing.envelopes.get(`stream:${stream}`)
    if (!envelope) return []
    const { token, label } = DESTINATIONS[stream]
    const colour = ink.token(token)
    return [
      {
        type: 'line',
        name: `${label}, kW`,
        xAxisIndex: axis,
        yAxisIndex: axis,
        stack: 'account',
        step: spread ? undefined : 'end',
        // Small negative readings must not start a stack of their own: the sum is the electric input.
        stackStrategy: 'all',
        symbol: 'none',
        silent: true,
        lineStyle: { width: 0.6, color: ink.sheet },
        itemStyle: { color: colour },
        areaStyle: { color: colour, opacity: 1 },
        data: envelope.mean.map((value, index) => [drawing.clockMs + envelope.timeS[index] * MS, value]),
      },
    ]
  })
}
