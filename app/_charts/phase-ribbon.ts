import { PHASES } from '@/app/_ui/streams'
import type { Ink } from './ink'
import type { SeriesOption } from './option-type'
import type { TraceDrawing } from './trace-option'

const MS = 1e3
/** Height of the bar that marks a corrected stretch, px. */
const MARK = 5
/** A mark or a chosen stretch is never narrower, px. */
const LEAST_WIDTH = 3

/** Name under which the ribbon's phases are clicked. */
export const RIBBON = 'Phase'

/** A stretch of elapsed seconds. */
export interface Span {
  readonly startS: number
  readonly endS: number
}

interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** A series of boxes along the ribbon, cut to what is in view; `draw` gets the box on the canvas. */
function along(
  drawing: TraceDrawing,
  spans: readonly Span[],
  series: { readonly name: string; readonly silent: boolean; readonly z?: number },
  draw: (index: number, box: Box) => { shape: Box; style: Record<string, unknown> },
): SeriesOption {
  const { clockMs } = drawing
  return {
    type: 'custom',
    ...series,
    xAxisIndex: 0,
    yAxisIndex: 0,
    encode: { x: [0, 1], y: [] },
    clip: true,
    tooltip: { show: false },
    data: spans.map(({ startS, endS }, index) => [clockMs + startS * MS, clockMs + endS * MS, index]),
    renderItem: (params, api) => {
      const index = Number(api.value(2))
      const [x0, y0] = api.coord([api.value(0), 1])
      const [x1, y1] = api.coord([api.value(1), 0])
      const view = params.coordSys as unknown as { x: number; width: number }
      const from = Math.max(x0, view.x)
      const to = Math.min(x1, view.x + view.width)
      if (to < from || index >= spans.length) return null
      return { type: 'rect', ...draw(index, { x: from, y: y0, width: to - from, height: y1 - y0 }) }
    },
  }
}

const wide = (box: Box): Box => ({ ...box, width: Math.max(LEAST_WIDTH, box.width) })

/** The phases as a ribbon, a bar on what a person corrected, a frame around the stretch that is chosen. */
export function ribbon(drawing: TraceDrawing, ink: Ink): SeriesOption[] {
  const { phases, corrected, picked } = drawing
  return [
    along(drawing, phases, { name: RIBBON, silent: false }, (index, box) => ({
      shape: { ...box, width: Math.max(0.5, box.width) },
      // Neighbours are parted by an edge, where there is room for one.
      style: {
        fill: ink.token(PHASES[phases[index].kind].token),
        stroke: ink.sheet,
        lineWidth: box.width > 3 ? 0.8 : 0,
      },
    })),
    along(drawing, corrected, { name: 'Corrected', silent: true, z: 3 }, (_, box) => ({
      shape: { ...wide(box), height: MARK },
      style: { fill: ink.ink, stroke: ink.sheet, lineWidth: 1 },
    })),
    along(drawing, picked ? [picked] : [], { name: 'Chosen', silent: true, z: 4 }, (_, box) => ({
      shape: wide(box),
      style: { fill: 'none', stroke: ink.accent, lineWidth: 3 },
    })),
  ]
}
