import { J_PER_KWH } from '@/lib/units'
import type { MonthTotals } from './rollup'
import { classOf, electricOf, WASTE_KINDS, wasteOf } from './waste'

/** A log's month in the numerators that comparisons are made of; sums of them are right, shares come last. */
export interface MonthDigest {
  readonly month: string
  /** Idle and working time. */
  readonly runningS: number
  readonly electricJ: number
  readonly idleJ: number
  /** Waste of all kinds at the meter; what the sensors cannot separate is not in it. */
  readonly wasteJ: number
  readonly cost: number
  readonly cycles: number
}

/** A log's rows by kind of phase put together, month by month. */
export function monthDigests(rows: readonly MonthTotals[]): MonthDigest[] {
  return [...new Set(rows.map(({ month }) => month))].map((month) => {
    const own = rows.filter((row) => row.month === month)
    const sum = (of: (row: MonthTotals) => number) => own.reduce((total, row) => total + of(row), 0)
    const waste = WASTE_KINDS.reduce((total, kind) => total + (wasteOf(kind, own, 0)?.kWh ?? 0), 0)
    const idle = own.filter((row) => classOf(row) === 'idle')
    return {
      month,
      runningS: sum((row) => (classOf(row) === 'off' ? 0 : row.seconds)),
      electricJ: sum(({ electricJ }) => electricJ),
      idleJ: electricOf(idle, 0).kWh * J_PER_KWH,
      wasteJ: waste * J_PER_KWH,
      cost: sum(({ cost }) => cost),
      cycles: sum(({ cycles }) => cycles),
    }
  })
}
