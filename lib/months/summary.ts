import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import { J_PER_KWH, S_PER_HOUR } from '@/lib/units'
import { FIGURE_COUNT, FIGURES, type Figure } from './figures'
import type { LogDay, LogMonth, ReactiveEnergy } from './log-month'
import { type MonthSpread, sumSpreads } from './month-spread'
import { electricOf, type PhaseTotals, wasteOf } from './waste'

/** Hours, energies and cost of one kind of phase; figures in the order of FIGURES, null where not separable. */
export interface KindSums {
  readonly kind: PhaseKind
  readonly seconds: number
  readonly kWh: readonly (number | null)[]
  readonly cost: readonly (number | null)[]
  /** What it leaves in the oil: pump loss, relief, unloading and metering; without metering where that is not separable. */
  readonly heatKWh: number
}

/** How much days differ from one another: what scaled hours are less sure by. */
export interface DaySpread {
  /** Days on which the machine ran. */
  readonly days: number
  readonly meanHours: number
  /** Covariance of a day's energies per running hour, (kWh/h)², row by row; null with fewer than two days. */
  readonly covariance: readonly number[] | null
}

/**
 * A machine's month on few numbers, made where a log of it is stored or removed: numerators alone, so that a page
 * reads one row a machine and month, and price, plan and emission factor may be asked for afterwards.
 */
export interface MonthSummary {
  readonly logs: number
  readonly cycles: number
  readonly kinds: readonly KindSums[]
  readonly spread: MonthSpread | null
  readonly daySpread: DaySpread
  /** Recorded time that counts, epoch ms, in order. */
  readonly spans: readonly { readonly fromMs: number; readonly toMs: number }[]
  readonly peakW: number | null
  /** Null where no log tells; of those that do otherwise. */
  readonly reactive: ReactiveEnergy | null
  /** Recorded twice or more: counted once. */
  readonly leftOutS: number
}

/** A log's row of a month as stored. */
export type CountedTotals = PhaseTotals & { readonly cycles: number }

/** Puts together what a machine's logs add to a month. */
export function summarise(rows: readonly CountedTotals[], logs: readonly LogMonth[]): MonthSummary {
  const reactive = logs.flatMap((log) => log.reactive ?? [])
  const peaks = logs.flatMap((log) => log.peakW ?? [])
  return {
    logs: logs.filter(({ days }) => days.length > 0).length,
    cycles: rows.reduce((sum, row) => sum + row.cycles, 0),
    kinds: PHASE_KINDS.flatMap((kind) => {
      const own = rows.filter((row) => row.phaseKind === kind)
      return own.length > 0 ? [kindSums(kind, own)] : []
    }),
    spread: sumSpreads(logs.map((log) => log.spread)),
    daySpread: daySpread(logs.flatMap((log) => log.days)),
    spans: logs.flatMap((log) => log.spans).sort((a, b) => a.fromMs - b.fromMs),
    peakW: peaks.length > 0 ? Math.max(...peaks) : null,
    reactive: reactive.length > 0 ? reactive.reduce(sumReactive) : null,
    leftOutS: logs.reduce((sum, log) => sum + log.leftOutS, 0),
  }
}

const sumReactive = (a: ReactiveEnergy, b: ReactiveEnergy): ReactiveEnergy => ({
  varS: a.varS + b.varS,
  electricJ: a.electricJ + b.electricJ,
  isRatedVoltage: a.isRatedVoltage || b.isRatedVoltage,
})

const heatJ = (row: PhaseTotals) => row.pumpLossJ + row.overReliefJ + row.unloadingJ + (row.meteringJ ?? 0)

function kindSums(kind: PhaseKind, rows: readonly PhaseTotals[]): KindSums {
  const amountOf = (figure: Figure) =>
    figure === 'electric' ? electricOf(rows, 0) : wasteOf(figure, rows, 0)
  const amounts = FIGURES.map(amountOf)
  return {
    kind,
    seconds: rows.reduce((sum, row) => sum + row.seconds, 0),
    kWh: amounts.map((amount) => amount?.kWh ?? null),
    cost: amounts.map((amount) => amount?.cost ?? null),
    heatKWh: rows.reduce((sum, row) => sum + heatJ(row), 0) / J_PER_KWH,
  }
}

/** Spread of days about the common rate, weighed by hours: a ratio of sums (Cochran, Sampling Techniques, 6.3, from memory). */
export function daySpread(logDays: readonly LogDay[]): DaySpread {
  const byDate = new Map<string, { hours: number; kWh: number[] }>()
  for (const { date, runningS, kWh } of logDays) {
    const day = byDate.get(date) ?? { hours: 0, kWh: FIGURES.map(() => 0) }
    byDate.set(date, {
      hours: day.hours + runningS / S_PER_HOUR,
      kWh: day.kWh.map((value, k) => value + (kWh[k] ?? 0)),
    })
  }
  const days = [...byDate.values()].filter((day) => day.hours > 0)
  const hours = days.reduce((sum, day) => sum + day.hours, 0)
  const meanHours = days.length > 0 ? hours / days.length : 0
  if (days.length < 2) return { days: days.length, meanHours, covariance: null }
  const rate = FIGURES.map((_, k) => days.reduce((sum, day) => sum + day.kWh[k], 0) / hours)
  const covariance = new Array<number>(FIGURE_COUNT ** 2).fill(0)
  for (const day of days) {
    const off = rate.map((perHour, k) => (day.kWh[k] - perHour * day.hours) / meanHours)
    for (let i = 0; i < FIGURE_COUNT; i++)
      for (let j = 0; j < FIGURE_COUNT; j++)
        covariance[i * FIGURE_COUNT + j] += (off[i] * off[j]) / (days.length - 1)
  }
  return { days: days.length, meanHours, covariance }
}
