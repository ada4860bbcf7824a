import type { MachineMonthView } from '@/app/_server/views/month-view'
import { WASTE_KINDS, type WasteKind } from '@/lib/months/waste'

/** One kind of waste of one machine in a month; null = not separable or not known. */
export interface WasteRow {
  readonly machineId: string
  readonly machine: string
  readonly line: string | null
  readonly kind: WasteKind
  readonly measuredKWh: number | null
  readonly measuredCost: number | null
  readonly measuredCO2: number | null
  readonly shareOfInput: number | null
  readonly scaledKWh: number | null
  readonly scaledCost: number | null
  readonly changeKWh: number | null
  readonly hoursEffectKWh: number | null
  readonly rateEffectKWh: number | null
  readonly coverageShare: number
}

/** Largest measured waste first. */
export function wasteRows(machines: readonly MachineMonthView[]): WasteRow[] {
  return machines
    .flatMap(({ machineId, name, line, summary, change }) =>
      WASTE_KINDS.map((kind): WasteRow => {
        const measured = summary.measured.waste[kind]
        const scaled = summary.scaled?.waste[kind] ?? null
        const split = change?.[kind] ?? null
        const input = summary.measured.electric.kWh
        return {
          machineId,
          machine: name,
          line,
          kind,
          measuredKWh: measured?.kWh ?? null,
          measuredCost: measured?.cost ?? null,
          measuredCO2: measured?.kgCO2 ?? null,
          shareOfInput: measured && input > 0 ? measured.kWh / input : null,
          scaledKWh: scaled?.kWh ?? null,
          scaledCost: scaled?.cost ?? null,
          changeKWh: split?.change ?? null,
          hoursEffectKWh: split?.hoursEffect ?? null,
          rateEffectKWh: split?.rateEffect ?? null,
          coverageShare: summary.coverageShare,
        }
      }),
    )
    .sort((a, b) => (b.measuredKWh ?? -1) - (a.measuredKWh ?? -1))
}
