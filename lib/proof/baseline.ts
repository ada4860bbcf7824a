import type { Adjustment, BaselineModel, ProofSetup } from '@/lib/contract/proof'
import { effectiveCount, lagOne } from '@/lib/numeric/autocorrelation'
import { type LinearFit, leastSquares } from '@/lib/numeric/least-squares'
import type { Unit } from './units'

/** What was used before, as a function of what drives it. */
export interface Baseline {
  readonly fit: LinearFit
  readonly adjustments: readonly Adjustment[]
  /** Design row of a unit. */
  readonly row: (unit: Unit) => readonly number[]
  readonly shown: BaselineModel
  /** By how much neighbours that are alike widen every sum: units over effective units. */
  readonly inflation: number
  /** Independent units less coefficients, at least 1. */
  readonly degrees: number
}

/** Units that each coefficient needs at least (common practice, no source). */
const UNITS_A_COEFFICIENT = 3

function rowOf(driver: ProofSetup['driver'], adjustments: readonly Adjustment[]) {
  return (unit: Unit): number[] => [
    1,
    ...(driver === 'cycles' ? [] : [unit.driver]),
    ...adjustments.map((name) => unit.adjust[name]),
  ]
}

/** Residuals of each log in the order of time. */
function byLog(units: readonly Unit[], values: readonly number[]): number[][] {
  const stretches = new Map<number, number[]>()
  units.forEach(({ log }, i) => {
    const stretch = stretches.get(log) ?? []
    stretch.push(values[i])
    stretches.set(log, stretch)
  })
  return [...stretches.values()]
}

/** Adjustments that the units allow: every unit knows them, and no more than their number carries. */
function usable(asked: readonly Adjustment[], units: readonly Unit[], base: number): Adjustment[] {
  const known = asked.filter((name) => units.every((unit) => !Number.isNaN(unit.adjust[name])))
  const most = Math.max(0, Math.floor(units.length / UNITS_A_COEFFICIENT) - base)
  return known.slice(0, most)
}

/**
 * Fits energy to the driver and the adjustments by ordinary least squares. Adjustments that are not known of every
 * unit (`others` too: those they will be asked of), that too few units carry, or that depend on each other are left out,
 * the last one first. Null where even the plain model has too few units.
 */
export function fitBaseline(
  units: readonly Unit[],
  others: readonly Unit[],
  { driver, adjustments: asked }: Pick<ProofSetup, 'driver' | 'adjustments'>,
): Baseline | null {
  const base = driver === 'cycles' ? 1 : 2
  if (units.length < UNITS_A_COEFFICIENT * base) return null
  const known = usable(asked, [...units, ...others], base)
  for (
    let adjustments = usable(known, units, base);
    ;
    adjustments = adjustments.slice(0, adjustments.length - 1)
  ) {
    const row = rowOf(driver, adjustments)
    const energies = units.map(({ energyJ }) => energyJ)
    const fit = leastSquares(units.map(row), energies)
    if (fit && fit.degrees > 0) return describe(fit, units, driver, adjustments, row)
    if (adjustments.length === 0) return null
  }
}

function describe(
  fit: LinearFit,
  units: readonly Unit[],
  driver: ProofSetup['driver'],
  adjustments: readonly Adjustment[],
  row: Baseline['row'],
): Baseline {
  const { coefficients, unscaled, residuals, degrees, variance, r2 } = fit
  const lag1 = driver === 'cycles' ? lagOne(byLog(units, residuals)) : lagOne([residuals])
  const effectiveUnits = effectiveCount(units.length, lag1)
  const inflation = units.length / effectiveUnits
  const names = ['constant', ...(driver === 'cycles' ? [] : [driver]), ...adjustments]
  const mean = units.reduce((sum, { energyJ }) => sum + energyJ, 0) / units.length
  const bias = residuals.reduce((sum, residual) => sum + residual, 0) / degrees
  return {
    fit,
    adjustments,
    row,
    inflation,
    degrees: Math.max(1, effectiveUnits - coefficients.length),
    shown: {
      coefficients: coefficients.map((value, j) => {
        const standardError = Math.sqrt(variance * inflation * unscaled.get(j, j))
        return { name: names[j], value, standardError, t: standardError > 0 ? value / standardError : 0 }
      }),
      units: units.length,
      r2: coefficients.length > 1 ? r2 : null,
      nmbe: bias / mean,
      cvRmse: Math.sqrt(variance) / mean,
      lag1,
      effectiveUnits,
    },
  }
}

/** Energy that the baseline expects of a unit, J. */
export function expectedJ({ fit, row }: Baseline, unit: Unit): number {
  return row(unit).reduce((sum, x, j) => sum + x * fit.coefficients[j], 0)
}
