import type { PhaseClass, PhaseKind } from '@/lib/contract/result'
import { J_PER_KWH } from '@/lib/units'
import type { MonthTotals } from './rollup'

/** Power that does nothing: all input while idle, and what goes over relief, to tank or into valves outside idle. */
export const WASTE_KINDS = ['idle', 'overRelief', 'unloading', 'metering'] as const
export type WasteKind = (typeof WASTE_KINDS)[number]

export interface Amount {
  readonly kWh: number
  /** In the site's currency. */
  readonly cost: number
  readonly kgCO2: number
}

/** A month's rows as stored; the log's cycles are not needed here. */
export type PhaseTotals = Omit<MonthTotals, 'month' | 'cycles'>

const IDLE_KINDS: readonly string[] = ['idle-unloaded', 'idle-loaded']
const OFF_KINDS: readonly string[] = ['stopped', 'starting']

/** The class a kind of phase belongs to. */
export function classOfKind(kind: PhaseKind): PhaseClass {
  if (OFF_KINDS.includes(kind)) return 'off'
  return IDLE_KINDS.includes(kind) ? 'idle' : 'work'
}

export const classOf = ({ phaseKind }: PhaseTotals) => classOfKind(phaseKind)

/** Electric input of rows. */
export function electricOf(rows: readonly PhaseTotals[], emissionKgPerKWh: number): Amount {
  let energyJ = 0
  let cost = 0
  for (const row of rows) {
    energyJ += row.electricJ
    cost += row.cost
  }
  return amount(energyJ, cost, emissionKgPerKWh)
}

/**
 * Waste of one kind at the meter: outside idle a row's input, less what is unaccounted for, is shared
 * over its hydraulic streams in proportion, so a stream carries its share of pump and motor loss. Null
 * where the fitted sensors could not separate it.
 */
export function wasteOf(
  kind: WasteKind,
  rows: readonly PhaseTotals[],
  emissionKgPerKWh: number,
): Amount | null {
  if (kind === 'idle') {
    return electricOf(
      rows.filter((row) => classOf(row) === 'idle'),
      emissionKgPerKWh,
    )
  }
  let energyJ = 0
  let cost = 0
  for (const row of rows) {
    if (classOf(row) !== 'work') continue
    const streamJ = row[`${kind}J`]
    if (streamJ === null) return null
    const hydraulicJ = row.overReliefJ + row.unloadingJ + row.intoSystemJ
    if (hydraulicJ === 0 || row.electricJ === 0) continue
    const atMeterJ = ((row.electricJ - row.unaccountedJ) * streamJ) / hydraulicJ
    energyJ += atMeterJ
    cost += (row.cost * atMeterJ) / row.electricJ
  }
  return amount(energyJ, cost, emissionKgPerKWh)
}

function amount(energyJ: number, cost: number, emissionKgPerKWh: number): Amount {
  const kWh = energyJ / J_PER_KWH
  return { kWh, cost, kgCO2: kWh * emissionKgPerKWh }
}
