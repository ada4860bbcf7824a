import type { ShownMachine } from '@/app/_server/views/month-columns-layout'
import type { Reach } from '@/lib/months/reach'
import type { Reference } from '@/lib/months/references'
import { WASTE_KINDS, type WasteKind } from '@/lib/months/waste'

/** One kind of waste of one machine in a month; null = not separable or not known. */
export interface WasteRow {
  /** For what stands behind the figures. */
  readonly of: ShownMachine
  readonly machineId: string
  readonly machine: string
  readonly line: string | null
  readonly kind: WasteKind
  readonly measuredKWh: number | null
  readonly measuredReach: Reach | null
  readonly measuredCost: number | null
  readonly measuredCO2: number | null
  readonly shareOfInput: number | null
  readonly scaledKWh: number | null
  readonly scaledReach: Reach | null
  readonly scaledCost: number | null
  /** Cost against the month before, and what made it. */
  readonly change: number | null
  readonly byHours: number | null
  readonly byDuty: number | null
  readonly byRate: number | null
  readonly byPrice: number | null
  readonly coverageShare: number
  readonly logs: number
}

/** Largest measured waste first. */
export function wasteRows(machines: readonly ShownMachine[], reference: Reference = 'previous'): WasteRow[] {
  return machines
    .flatMap((of) =>
      WASTE_KINDS.map((kind): WasteRow => {
        const { machineId, name, line, review } = of
        const { month, reach, changes } = review
        const measured = month.measured.waste[kind]
        const scaled = month.scaled?.waste[kind] ?? null
        const split = changes[reference]?.[kind]?.cost ?? null
        const input = month.measured.electric.kWh
        return {
          of,
          machineId,
          machine: name,
          line,
          kind,
          measuredKWh: measured?.kWh ?? null,
          measuredReach: reach[kind]?.measured ?? null,
          measuredCost: measured?.cost ?? null,
          measuredCO2: measured?.kgCO2 ?? null,
          shareOfInput: measured && input > 0 ? measured.kWh / input : null,
          scaledKWh: scaled?.kWh ?? null,
          scaledReach: reach[kind]?.scaled ?? null,
          scaledCost: scaled?.cost ?? null,
          change: split?.change ?? null,
          byHours: split?.effects.hours ?? null,
          byDuty: split?.effects.duty ?? null,
          byRate: split?.effects.rate ?? null,
          byPrice: split?.effects.price ?? null,
          coverageShare: month.coverageShare,
          logs: review.logs,
        }
      }),
    )
    .sort((a, b) => (b.measuredKWh ?? -1) - (a.measuredKWh ?? -1))
}
