import { type PackedMachine, packMachine, readMachine, type ShownMachine, SIZE } from './month-columns-layout'
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
  /** Base64 of 32-bit numbers, little end first, machine by machine. */
  readonly figures: string
}

/** @param most machines there can be */
export function monthColumns(
  machines: Iterable<PackedMachine & Omit<MachineReviewView, 'review'>>,
  most: number,
): MonthColumns {
  const numbers = new Float32Array(most * SIZE)
  const ids: string[] = []
  const names: string[] = []
  const lines: (string | null)[] = []
  const spans: NonNullable<MachineReviewView['baseline']>[] = []
  const spanOf: (number | null)[] = []
  const places = new Map<string, number>()
  for (const { machineId, name, line, baseline, review, best } of machines) {
    packMachine({ review, best }, numbers, ids.length * SIZE)
    ids.push(machineId)
    names.push(name)
    lines.push(line)
    const span = baseline && `${baseline.fromMonth} ${baseline.untilMonth}`
    if (span && !places.has(span)) places.set(span, spans.push(baseline) - 1)
    spanOf.push(span ? (places.get(span) ?? null) : null)
  }
  const bytes = Buffer.from(numbers.buffer, 0, ids.length * SIZE * Float32Array.BYTES_PER_ELEMENT)
  return { ids, names, lines, spans, spanOf, figures: bytes.toString('base64') }
}

/** The machines of a page, on the server and in the browser. */
export function shownMachines({ ids, names, lines, spans, spanOf, figures }: MonthColumns): ShownMachine[] {
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
      ...readMachine(numbers, i * SIZE),
    }
  })
}
