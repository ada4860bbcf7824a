'use client'
import { BarChart, CustomChart, LineChart, ScatterChart } from 'echarts/charts'
import {
  AxisPointerComponent,
  DataZoomComponent,
  GridComponent,
  MarkLineComponent,
  TooltipComponent,
} from 'echarts/components'
import { type EChartsType, init, use as register } from 'echarts/core'
import { CanvasRenderer } from 'echarts/renderers'
import { useEffect, useRef } from 'react'
import { type Ink, inkOf } from './ink'
import type { ChartOption } from './option-type'

register([
  BarChart,
  CustomChart,
  LineChart,
  ScatterChart,
  AxisPointerComponent,
  DataZoomComponent,
  GridComponent,
  MarkLineComponent,
  TooltipComponent,
  CanvasRenderer,
])

/** The window shown, on the time axis of the chart in ms. */
export interface ZoomWindow {
  readonly from: number
  readonly to: number
}

export interface ChartProps {
  /** Builds the option with the colours of the theme in force; called again when the theme changes. */
  readonly build: (ink: Ink) => ChartOption
  readonly height: number
  readonly label: string
  readonly zoom?: ZoomWindow
  readonly onZoom?: (zoom: ZoomWindow) => void
  /** An item of a series that is not silent was clicked. */
  readonly onPick?: (seriesName: string, index: number) => void
}

/** The one place where ECharts is mounted. Drawn for the eye only: the text and table beside it carry the content. */
export default function Chart({ build, height, label, zoom, onZoom, onPick }: ChartProps) {
  const holder = useRef<HTMLDivElement>(null)
  const chart = useRef<EChartsType | null>(null)
  const latest = useRef({ build, onZoom, onPick })
  latest.current = { build, onZoom, onPick }

  useEffect(() => {
    const element = holder.current
    if (!element) return
    const made = init(element)
    chart.current = made
    const draw = () => made.setOption(latest.current.build(inkOf(element)), { replaceMerge: ['series'] })
    draw()
    made.on('datazoom', () => {
      const option = made.getOption() as { dataZoom?: { startValue?: number; endValue?: number }[] }
      const shown = option.dataZoom?.[0]
      if (shown?.startValue !== undefined && shown.endValue !== undefined) {
        latest.current.onZoom?.({ from: shown.startValue, to: shown.endValue })
      }
    })
    made.on('click', ({ seriesName, dataIndex }) => {
      if (seriesName !== undefined) latest.current.onPick?.(seriesName, dataIndex)
    })
    const size = new ResizeObserver(() => made.resize())
    size.observe(element)
    const theme = new MutationObserver(draw)
    theme.observe(document.documentElement, { attributeFilter: ['data-theme'] })
    const dark = window.matchMedia('(prefers-color-scheme: dark)')
    dark.addEventListener('change', draw)
    return () => {
      size.disconnect()
      theme.disconnect()
      dark.removeEventListener('change', draw)
      made.dispose()
      chart.current = null
    }
  }, [])

  useEffect(() => {
    if (holder.current) {
      chart.current?.setOption(build(inkOf(holder.current)), { replaceMerge: ['series'] })
    }
  }, [build])

  useEffect(() => {
    if (!zoom || !chart.current) return
    chart.current.dispatchAction({ type: 'dataZoom', startValue: zoom.from, endValue: zoom.to })
  }, [zoom])

  return <div ref={holder} className="chart" style={{ height }} role="img" aria-label={label} />
}
