import { type LogSpread, WITNESSES } from '@/lib/ledger/log-spread'
import { J_PER_KWH } from '@/lib/units'
import { FIGURE_COUNT, FIGURES, type Figure } from './figures'

/** 95 % of a normal distribution lies within this many standard deviations. */
export const COVERAGE = 1.96

/**
 * Doubt of energies at the meter in kWh, in the order of FIGURES, so that any sum of a machine's recordings has its
 * interval: what each recording is off by alone adds in squares, what all share adds as it is.
 */
export interface MonthSpread {
  /** Covariance of what is independent between recordings, kWh², row by row. */
  readonly independent: readonly number[]
  /** By figure: what one standard deviation of each plate value moves, kWh. */
  readonly shared: readonly (readonly number[])[]
  /** By parameter that bends results, by end of its interval, by figure: the move, kWh. */
  readonly ends: readonly (readonly (readonly number[])[])[]
}

const WITNESS_OF: Readonly<Record<Figure, (typeof WITNESSES)[number]>> = {
  electric: 'electric',
  idle: 'idle',
  overRelief: 'overRelief',
  unloading: 'overRelief',
  metering: 'metering',
}

/** Below this share of the input a witness is nil: what it may hide goes with the input. */
const NIL_SHARE = 1e-9

/**
 * A log's spread on the part of it that lies in a month: each figure in proportion to what the log's witness of it is.
 * @param kWh the month's figures, in the order of FIGURES; null where not separable
 */
export function monthSpread(of: LogSpread, kWh: readonly (number | null)[]): MonthSpread {
  const inputJ = of.energyJ[WITNESSES.indexOf('electric')]
  const part = ((kWh[0] ?? 0) * J_PER_KWH) / inputJ || 0
  const places = FIGURES.map((figure) => WITNESSES.indexOf(WITNESS_OF[figure]))
  const factors = FIGURES.map((figure, k) => {
    const witnessJ = of.energyJ[places[k]]
    const valueJ = (kWh[k] ?? 0) * J_PER_KWH
    if (Math.abs(witnessJ) > NIL_SHARE * Math.abs(inputJ)) return valueJ / witnessJ / J_PER_KWH
    return figure === 'unloading' || kWh[k] === null ? 0 : part / J_PER_KWH
  })
  return {
    independent: FIGURES.flatMap((_, i) =>
      FIGURES.map(
        (__, j) => of.independent[places[i] * WITNESSES.length + places[j]] * factors[i] * factors[j],
      ),
    ),
    shared: FIGURES.map((_, k) => of.shared[places[k]].map((value) => value * factors[k])),
    ends: of.ends.map((pair) => pair.map((end) => FIGURES.map((_, k) => end[places[k]] * factors[k]))),
  }
}

/** The spread of a sum of recordings of one machine. */
export function sumSpreads(spreads: readonly MonthSpread[]): MonthSpread | null {
  if (spreads.length === 0) return null
  return spreads.reduce((sum, one) => ({
    independent: sum.independent.map((value, i) => value + one.independent[i]),
    shared: sum.shared.map((row, i) => row.map((value, k) => value + one.shared[i][k])),
    ends: sum.ends.map((pair, j) =>
      pair.map((end, side) => end.map((value, k) => value + one.ends[j][side][k])),
    ),
  }))
}

/** Variance of a weighed sum of figures. @param covariance row by row, in the order of FIGURES */
export function weighedVariance(covariance: readonly number[], weights: readonly number[]): number {
  let variance = 0
  for (let i = 0; i < FIGURE_COUNT; i++) {
    // Mostly one figure is asked for alone.
    if (weights[i] === 0) continue
    for (let j = 0; j < FIGURE_COUNT; j++)
      variance += weights[i] * weights[j] * covariance[i * FIGURE_COUNT + j]
  }
  return variance
}

/** How far the 95 % interval of a weighed sum of figures reaches, kWh. @param weights in the order of FIGURES */
export function reachOf(of: MonthSpread, weights: readonly number[]): { below: number; above: number } {
  const weigh = (values: readonly number[]) => values.reduce((sum, value, k) => sum + weights[k] * value, 0)
  let plates = 0
  for (let k = 0; k < of.shared[0].length; k++) {
    let moved = 0
    for (let i = 0; i < FIGURE_COUNT; i++) moved += weights[i] * of.shared[i][k]
    plates += moved * moved
  }
  const even = COVERAGE * Math.sqrt(Math.max(0, weighedVariance(of.independent, weights)) + plates)
  const ends = of.ends.map((pair) => pair.map(weigh))
  return {
    below: Math.hypot(even, ...ends.map((pair) => Math.min(0, ...pair))),
    above: Math.hypot(even, ...ends.map((pair) => Math.max(0, ...pair))),
  }
}
