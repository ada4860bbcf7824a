import type { ProofPart } from '@/lib/contract/proof'
import type { PartOfSpread } from '@/lib/numeric/effective-degrees'
import { J_PER_KWH } from '@/lib/units'
import { type Baseline, expectedJ } from './baseline'
import { betweenLogs, LEAST_BETWEEN_SHARE } from './between-logs'
import { halfWidth } from './factor'
import { systematicOf } from './systematic'
import type { ProofLog, Unit } from './units'

/** An adjusted saving and what widens it. */
export interface Saving {
  readonly expectedJ: number
  readonly actualJ: number
  readonly savedJ: number
  /** 95 %, J. */
  readonly halfJ: number
  readonly degrees: number
  readonly factor: number
  readonly parts: readonly ProofPart[]
  /** Standard deviations by part, to be put together anew for a year. */
  readonly spreads: Readonly<Record<ProofPart['source'], PartOfSpread>>
  /** Variance between logs of a unit's energy, J². */
  readonly betweenJ2: number
  /** Variance of a unit's residual, J². */
  readonly unitJ2: number
}

interface Asked {
  readonly logs: readonly ProofLog[]
  readonly baseline: Baseline
  readonly before: readonly Unit[]
  readonly after: readonly Unit[]
  readonly sameSensors: boolean
  /** Units are whole logs: their scatter holds what is drawn anew for each log. */
  readonly wholeLogs: boolean
}

/** Weight of every baseline unit in the sum that is expected of the others: X(X'X)⁻¹X₁'1. */
function weightsOf({ fit, row }: Baseline, before: readonly Unit[], after: readonly Unit[]): number[] {
  const sums = after
    .map(row)
    .reduce((sum: number[], one) => sum.map((x, j) => x + one[j]), [...fit.coefficients.map(() => 0)])
  const direction = sums.map((_, j) => sums.reduce((sum, x, k) => sum + fit.unscaled.get(j, k) * x, 0))
  return before.map((unit) => row(unit).reduce((sum, x, j) => sum + x * direction[j], 0))
}

const sumOfSquares = (values: readonly number[]) => values.reduce((sum, value) => sum + value ** 2, 0)

/** Σ over logs of (Σ of a log's weights)². */
function logSquares(units: readonly Unit[], weights: readonly number[]): number {
  const sums = new Map<number, number>()
  units.forEach(({ log }, i) => {
    sums.set(log, (sums.get(log) ?? 0) + weights[i])
  })
  return sumOfSquares([...sums.values()])
}

/** Mean over logs of the variance that sensors drawn anew, and what is a log's own, give its mean unit, J². */
function drawnAnew(logs: readonly ProofLog[], units: readonly Unit[], sameSensors: boolean): number {
  const used = [...new Set(units.map(({ log }) => log))]
  const variances = used.map((log) => {
    const own = units.filter((unit) => unit.log === log)
    const weights = own.map(() => 1 / own.length)
    const { sensors, ofEachLog } = systematicOf(logs, own, weights, sameSensors)
    return (sameSensors ? 0 : sensors) + ofEachLog
  })
  return variances.reduce((sum, variance) => sum + variance, 0) / variances.length
}

/** What the baseline expects of `after` less what was used, with its 95 % interval. */
export function adjustedSaving({ logs, baseline, before, after, sameSensors, wholeLogs }: Asked): Saving {
  const expected = after.reduce((sum, unit) => sum + expectedJ(baseline, unit), 0)
  const actualJ = after.reduce((sum, { energyJ }) => sum + energyJ, 0)
  const weights = weightsOf(baseline, before, after)
  const signed = [...weights, ...after.map(() => -1)]
  const whole = systematicOf(logs, [...before, ...after], signed, sameSensors)
  const anew = drawnAnew(logs, before, sameSensors)
  const { fit, inflation, degrees } = baseline
  // Few logs may look more alike than their sensors allow.
  const unitJ2 = wholeLogs ? Math.max(fit.variance, anew) : fit.variance
  const meanJ = before.reduce((sum, { energyJ }) => sum + energyJ, 0) / before.length
  const leastJ2 = (LEAST_BETWEEN_SHARE * meanJ) ** 2
  const seenJ2 = wholeLogs ? 0 : betweenLogs(before, fit.residuals, inflation, anew)
  const betweenJ2 = wholeLogs ? 0 : Math.max(seenJ2, leastJ2)
  const byLogs =
    logSquares(before, weights) +
    logSquares(
      after,
      after.map(() => 1),
    )
  const baselineLogs = new Set(before.map(({ log }) => log)).size
  const spreads: Saving['spreads'] = {
    'baseline-scatter': { sd: Math.sqrt(unitJ2 * inflation * sumOfSquares(weights)), degrees },
    'new-scatter': { sd: Math.sqrt(unitJ2 * inflation * after.length), degrees },
    'between-logs': {
      sd: Math.sqrt(betweenJ2 * byLogs),
      degrees: seenJ2 > leastJ2 ? Math.max(1, baselineLogs - 1) : Number.POSITIVE_INFINITY,
    },
    sensors: {
      sd: wholeLogs && !sameSensors ? 0 : Math.sqrt(whole.sensors),
      degrees: Number.POSITIVE_INFINITY,
    },
    models: { sd: Math.sqrt(whole.models), degrees: Number.POSITIVE_INFINITY },
    'of-each-log': { sd: wholeLogs ? 0 : Math.sqrt(whole.ofEachLog), degrees: Number.POSITIVE_INFINITY },
  }
  const { half, degrees: all, factor } = halfWidth(Object.values(spreads))
  return {
    expectedJ: expected,
    actualJ,
    savedJ: expected - actualJ,
    halfJ: half,
    degrees: all,
    factor,
    parts: (Object.keys(spreads) as ProofPart['source'][]).map((source) => ({
      source,
      halfWidthKWh: (factor * spreads[source].sd) / J_PER_KWH,
    })),
    spreads,
    betweenJ2,
    unitJ2,
  }
}
