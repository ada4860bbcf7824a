import type {
  BarSeriesOption,
  CustomSeriesOption,
  LineSeriesOption,
  ScatterSeriesOption,
} from 'echarts/charts'
import type {
  AxisPointerComponentOption,
  DataZoomComponentOption,
  GridComponentOption,
  TooltipComponentOption,
} from 'echarts/components'
import type { ComposeOption } from 'echarts/core'

export type SeriesOption = BarSeriesOption | CustomSeriesOption | LineSeriesOption | ScatterSeriesOption

export type ChartOption = ComposeOption<
  | SeriesOption
  | AxisPointerComponentOption
  | DataZoomComponentOption
  | GridComponentOption
  | TooltipComponentOption
>
