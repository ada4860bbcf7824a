import { PHASE_KINDS, type PhaseClass, type PhaseKind } from '@/lib/contract/result'
import { S_PER_HOUR } from '@/lib/units'
import { FIGURE_COUNT } from './figures'
import type { KindSums } from './summary'
import { classOfKind } from './waste'

/**
 * A machine's month by kind of phase in one row of numbers: pages work on thousands of them, read as they are stored.
 * By kind in the order of PHASE_KINDS: seconds, kWh and cost of each of FIGURES, kWh of heat. Where the month has no such
 * phase its seconds are NaN; a figure that is not separable is NaN.
 */
export type KindTable = ArrayLike<number>

const KWH_AT = 1
const COST_AT = KWH_AT + FIGURE_COUNT
const HEAT_AT = COST_AT + FIGURE_COUNT
/** Numbers of a kind. */
export const STRIDE = HEAT_AT + 1
export const KIND_COUNT = PHASE_KINDS.length
export const KIND_TABLE_LENGTH = KIND_COUNT * STRIDE

const CLASSES: readonly PhaseClass[] = PHASE_KINDS.map(classOfKind)
/** A month without any phase. */
const NOTHING: readonly number[] = Array.from({ length: KIND_TABLE_LENGTH }, () => Number.NaN)

export const STOPPED = PHASE_KINDS.indexOf('stopped')

export const classAt = (kind: number) => CLASSES[kind]
export const kindAt = (kind: number): PhaseKind => PHASE_KINDS[kind]
export const secondsAt = (table: KindTable, kind: number) => table[kind * STRIDE]
export const hasKind = (table: KindTable, kind: number) => !Number.isNaN(table[kind * STRIDE])
export const kWhAt = (table: KindTable, kind: number, figure: number) =>
  table[kind * STRIDE + KWH_AT + figure]
export const costAt = (table: KindTable, kind: number, figure: number) =>
  table[kind * STRIDE + COST_AT + figure]
export const heatAt = (table: KindTable, kind: number) => table[kind * STRIDE + HEAT_AT]

export function kindTable(sums: readonly KindSums[]): Float64Array {
  const table = new Float64Array(KIND_TABLE_LENGTH).fill(Number.NaN)
  for (const { kind, seconds, kWh, cost, heatKWh } of sums) {
    const at = PHASE_KINDS.indexOf(kind) * STRIDE
    table[at] = seconds
    for (let k = 0; k < FIGURE_COUNT; k++) {
      table[at + KWH_AT + k] = kWh[k] ?? Number.NaN
      table[at + COST_AT + k] = cost[k] ?? Number.NaN
    }
    table[at + HEAT_AT] = heatKWh
  }
  return table
}

/** Idle and working hours. */
export function runningHoursOf(table: KindTable): number {
  let seconds = 0
  for (let kind = 0; kind < KIND_COUNT; kind++)
    if (CLASSES[kind] !== 'off' && hasKind(table, kind)) seconds += secondsAt(table, kind)
  return seconds / S_PER_HOUR
}

/** How often the measured turning hours fit into the planned hours that nobody logged; 0 where none ran. */
export function unloggedFactor(table: KindTable, plannedHours: number): number {
  const hours = runningHoursOf(table)
  return hours > 0 ? Math.max(0, plannedHours / hours - 1) : 0
}

/** Measured and scaled together, kind by kind; standstill says nothing of unlogged hours. */
export function wholeTable(table: KindTable, plannedHours: number): KindTable {
  return meanTable([table], [1 + unloggedFactor(table, plannedHours)])
}

/**
 * The mean of several months kind by kind, each times its factor but for standstill; a figure that one of them could not
 * separate is not known.
 */
export function meanTable(tables: readonly KindTable[], factors: readonly number[]): KindTable {
  const mean = NOTHING.slice()
  const share = 1 / tables.length
  for (let n = 0; n < tables.length; n++) {
    const table = tables[n]
    for (let kind = 0; kind < KIND_COUNT; kind++) {
      if (!hasKind(table, kind)) continue
      const factor = share * (kind === STOPPED ? 1 : factors[n])
      const from = kind * STRIDE
      const isFirst = !hasKind(mean, kind)
      for (let i = from; i < from + STRIDE; i++) mean[i] = table[i] * factor + (isFirst ? 0 : mean[i])
    }
  }
  return mean
}
