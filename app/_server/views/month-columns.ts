import { type PackedMachine, packMachine, type ShownBest, SIZE } from './month-columns-layout'
import type { MachineReviewView } from './month-reviews'
import type { MonthColumns } from './shown-machines'

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
  const options: ShownBest['id'][] = []
  const optionAt = new Map<string, number>()
  const placeOf = (id: ShownBest['id']) => {
    const known = optionAt.get(id)
    if (known !== undefined) return known
    optionAt.set(id, options.length)
    return options.push(id) - 1
  }
  for (const { machineId, name, line, baseline, review, best } of machines) {
    packMachine({ review, best }, numbers, ids.length * SIZE, placeOf)
    ids.push(machineId)
    names.push(name)
    lines.push(line)
    const span = baseline && `${baseline.fromMonth} ${baseline.untilMonth}`
    if (span && !places.has(span)) places.set(span, spans.push(baseline) - 1)
    spanOf.push(span ? (places.get(span) ?? null) : null)
  }
  const bytes = Buffer.from(numbers.buffer, 0, ids.length * SIZE * Float32Array.BYTES_PER_ELEMENT)
  return { ids, names, lines, spans, spanOf, options, figures: bytes.toString('base64') }
}
