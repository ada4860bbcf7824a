import type { Adjustment, Trial } from '@/lib/contract/proof'
import type { PartOfSpread } from '@/lib/numeric/effective-degrees'
import { meanOf } from '@/lib/numeric/mean'
import { J_PER_KWH } from '@/lib/units'
import { type Baseline, fitBaseline } from './baseline'
import type { LogEvidence } from './evidence'
import type { Unit } from './units'

/** The times of a cycle that a trial is adjusted for: people do not idle alike twice. */
const TIMES: readonly Adjustment[] = ['idle-time', 'working-time']

/** The compared cycles of one side. */
export interface TrialSide {
  /** Indices among the log's cycles. */
  readonly indices: readonly number[]
  readonly units: readonly Unit[]
}

export function trialSide(units: readonly Unit[], indices: readonly number[]): TrialSide {
  return { indices, units: indices.map((k) => units[k]) }
}

/** Mean energy of a side's cycles as it would be with given times, J. */
interface AtTimes {
  readonly energyJ: number
  readonly spread: PartOfSpread
  readonly fit: Baseline
}

/** A cycle with the mean times of all compared ones. */
function usualCycle(units: readonly Unit[]): Unit {
  const [first] = units
  const adjust = { ...first.adjust }
  for (const name of TIMES) adjust[name] = meanOf(units.map((unit) => unit.adjust[name]))
  return { ...first, adjust }
}

function atTimes(fit: Baseline, usual: Unit): AtTimes {
  const row = fit.row(usual)
  const { coefficients, unscaled, variance } = fit.fit
  const energyJ = row.reduce((sum, x, j) => sum + x * coefficients[j], 0)
  let form = 0
  row.forEach((x, j) => {
    row.forEach((y, k) => {
      form += x * y * unscaled.get(j, k)
    })
  })
  const sd = Math.sqrt(Math.max(0, variance * fit.inflation * form))
  return { energyJ, spread: { sd, degrees: fit.degrees }, fit }
}

export interface ComparedSides {
  readonly before: AtTimes
  readonly after: AtTimes
  readonly adjustments: readonly Adjustment[]
}

/**
 * Both sides at the same times of a cycle: each side's energy fitted to idle and working time as far as its cycles carry
 * that, and only to what both carry, taken at the mean of all compared. Without, it is the plain mean. Null where a side
 * has too few.
 */
export function compareSides(before: TrialSide, after: TrialSide): ComparedSides | null {
  const all = [...before.units, ...after.units]
  for (let adjustments = TIMES; ; adjustments = adjustments.slice(0, -1)) {
    const [one, other] = [before, after].map(({ units }) =>
      fitBaseline(units, all, { driver: 'cycles', adjustments: [...adjustments] }),
    )
    if (!one || !other) return null
    const carried = one.adjustments.filter((name) => other.adjustments.includes(name))
    if (carried.length < Math.max(one.adjustments.length, other.adjustments.length) && adjustments.length > 0)
      continue
    const usual = usualCycle(all)
    return { before: atTimes(one, usual), after: atTimes(other, usual), adjustments: carried }
  }
}

/** A side as it is shown. */
export function shownSide({ cycles }: LogEvidence, side: TrialSide, at: AtTimes | null): Trial['before'] {
  const { indices, units } = side
  if (indices.length === 0)
    return { cycles: 0, fromS: 0, toS: 0, kWhPerCycle: 0, adjustedKWh: 0, spreadKWh: 0, effectiveCycles: 0 }
  const energies = units.map(({ energyJ }) => energyJ / J_PER_KWH)
  const mean = meanOf(energies)
  const squares = energies.reduce((sum, energy) => sum + (energy - mean) ** 2, 0)
  return {
    cycles: indices.length,
    fromS: cycles.startS[indices[0]],
    toS: cycles.endS[indices[indices.length - 1]],
    kWhPerCycle: mean,
    adjustedKWh: at ? at.energyJ / J_PER_KWH : mean,
    spreadKWh: indices.length > 1 ? Math.sqrt(squares / (indices.length - 1)) : 0,
    effectiveCycles: at ? at.fit.shown.effectiveUnits : indices.length,
  }
}
