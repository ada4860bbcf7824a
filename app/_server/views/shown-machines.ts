import { readMachine, type ShownBest, type ShownMachine, SIZE } from './month-columns-layout'
import type { MachineReviewView } from './month-reviews'

/**
 * Machines of a month as they go to the page: names as lists, all figures in one text. They are rounded to seven digits,
 * of which three are shown; what a page does not show is asked for where it is opened.
 */
export interface MonthColumns {
  readonly ids: readonly string[]
  readonly names: readonly string[]
  readonly lines: readonly (string | null)[]
  /** Spans of months that machines are held against, and by machine which; null: none. */
  readonly spans: readonly NonNullable<MachineReviewView['baseline']>[]
  readonly spanOf: readonly (number | null)[]
  /** Options that are the best of any machine. */
  readonly options: readonly ShownBest['id'][]
  /** Base64 of 32-bit numbers, little end first, machine by machine. */
  readonly figures: string
}

/** The machines of a page, on the server and in the browser. */
export function shownMachines(columns: MonthColumns): ShownMachine[] {
  const { ids, names, lines, spans, spanOf, options, figures } = columns
  const text = atob(figures)
  const bytes = new Uint8Array(text.length)
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i)
  const numbers = new Float32Array(bytes.buffer)
  return ids.map((machineId, i) => {
    const span = spanOf[i]
    return {
      machineId,
      name: names[i],
      line: lines[i],
      baseline: span === null ? null : spans[span],
      ...readMachine(numbers, i * SIZE, options),
    }
  })
}
