import type { Estimate } from '@/lib/contract/estimate'
import type { Expected } from '@/lib/contract/measure'
import type { Proof, ProofSetup } from '@/lib/contract/proof'
import { ratioSpread } from '@/lib/numeric/ratio-spread'
import { J_PER_KWH, S_PER_HOUR } from '@/lib/units'
import { type Baseline, expectedJ, fitBaseline } from './baseline'
import { conditionWarnings } from './conditions'
import { logRows } from './log-rows'
import { adjustedSaving, type Saving } from './saving'
import { sideWarnings, stateWarnings } from './side-warnings'
import { cycleUnits, logUnits, type ProofLog, type Side, type Unit, workS } from './units'
import { verdictOf } from './verdict'
import { type ProofWarning, warning } from './warning'

/** Fewer cycles than this on a side are no comparison (common practice, no source). */
const LEAST_CYCLES = 3

/**
 * Working time per cycle that grows or shrinks beyond this factor is no slower stroke: other cycles were found, as where
 * the set-up does not say how the machine unloads now (common practice, no source).
 */
const UNLIKE_FACTOR = 1.5

function unlikeCycles(before: readonly Unit[], after: readonly Unit[]): ProofWarning[] {
  if (before.length === 0 || after.length === 0) return []
  const mean = (units: readonly Unit[]) =>
    units.reduce((sum, { secondsByKind }) => sum + workS(secondsByKind), 0) / units.length
  const [beforeS, afterS] = [mean(before), mean(after)]
  const factor = Math.max(beforeS / afterS, afterS / beforeS)
  return factor > UNLIKE_FACTOR ? [warning('cycles-unlike', { beforeS, afterS })] : []
}

export interface ProofYear {
  readonly plannedHours: number
  /** How far the year's hours may be from the planned ones, 95 %, as a share. */
  readonly plannedHoursLimitShare: number
}

export interface ToProve {
  readonly logs: readonly ProofLog[]
  readonly setup: ProofSetup
  readonly expected: Pick<Expected, 'savedShare' | 'savedKWhPerYear' | 'plannedHours'> | null
  readonly year: ProofYear
  /** What the caller knows beside the logs, such as changed nameplates. */
  readonly warnings?: readonly ProofWarning[]
}

function sideOf(logs: readonly ProofLog[], units: readonly Unit[], side: Side): Proof['baseline'] {
  const own = units.filter(({ log }) => logs[log].side === side)
  const sum = (of: (unit: Unit) => number) => own.reduce((total, unit) => total + of(unit), 0)
  return {
    logs: [...new Set(own.map(({ log }) => logs[log].logId))],
    units: own.length,
    electricKWh: sum(({ energyJ }) => energyJ) / J_PER_KWH,
    drivers: sum(({ driver }) => driver),
  }
}

const even = (value: number, half: number, basis: Estimate['basis']): Estimate => ({
  value,
  low: value - half,
  high: value + half,
  basis,
})

const times = ({ value, low, high, basis }: Estimate, factor: number): Estimate => ({
  value: value * factor,
  low: low * factor,
  high: high * factor,
  basis,
})

/** 95 % half-width of the saving over a year, J of the compared units: what other weeks would show comes on top. */
function yearHalf(saving: Saving, baseline: Baseline, after: readonly Unit[], limitShare: number): number {
  const saved = after.map((unit) => expectedJ(baseline, unit) - unit.energyJ)
  const spread = ratioSpread(
    saved,
    after.map(({ runningS }) => runningS),
  )
  const sampling = (spread ?? 0) * Math.sqrt(baseline.inflation) * Math.abs(saving.savedJ)
  const { 'new-scatter': scatter, ...others } = saving.spreads
  const rest = Object.values(others).reduce((sum, { sd }) => sum + sd ** 2, 0)
  const half = saving.factor * Math.sqrt(rest + Math.max(scatter.sd, sampling) ** 2)
  return Math.hypot(half, limitShare * saving.savedJ)
}

/**
 * What was promised for the compared units. The share's own interval knows sensors and models only; how little one log tells
 * of other weeks' duty is in the yearly figure, so its reach in proportion is taken.
 */
function promisedOf(expected: ToProve['expected'], expectedKWh: number, perYear: number): Estimate | null {
  if (!expected) return null
  const { savedShare, savedKWhPerYear } = expected
  if (!savedShare || savedKWhPerYear.value === 0) return times(savedKWhPerYear, 1 / perYear)
  return times(savedKWhPerYear, (savedShare.value * expectedKWh) / savedKWhPerYear.value)
}

/** What was promised over a year, for as many hours as the proof reckons with; where no hours are known, as it was said. */
function promisedPerYear(
  { savedKWhPerYear, plannedHours }: NonNullable<ToProve['expected']>,
  year: ProofYear,
): Estimate {
  return plannedHours === undefined
    ? savedKWhPerYear
    : times(savedKWhPerYear, year.plannedHours / plannedHours)
}

/** Energies of a side are as good as the worst of its logs. */
function basisOf(logs: readonly ProofLog[]): Estimate['basis'] {
  const bases = logs.map(({ evidence }) => evidence.basis)
  return bases.includes('default') ? 'default' : bases.includes('estimated') ? 'estimated' : 'measured'
}

/**
 * Holds logs after a change against a baseline fitted to logs before it: adjusted saving = baseline under the new logs'
 * conditions − what they used, with a 95 % interval, beside what was promised. ISO 50006 and ISO 50015 for baseline and
 * normalisation; the idea of IPMVP's option B: the machine itself is measured, all that drives it too.
 */
export function prove({ logs, setup, expected, year, warnings: told = [] }: ToProve): Proof {
  const { driver, sameSensors } = setup
  const units = driver === 'cycles' ? cycleUnits(logs) : logUnits(logs, driver)
  const sides = (side: Side) => units.filter(({ log }) => logs[log].side === side)
  const [before, after] = [sides('baseline'), sides('comparison')]
  const least = driver === 'cycles' ? LEAST_CYCLES : 1
  const unlike = driver === 'cycles' ? unlikeCycles(before, after) : []
  const isComparable = after.length >= least && unlike.length === 0
  const baseline = isComparable ? fitBaseline(before, after, setup) : null
  const runningHours = after.reduce((sum, unit) => sum + unit.runningS, 0) / S_PER_HOUR
  const shown = {
    version: 1 as const,
    setup,
    baseline: sideOf(logs, units, 'baseline'),
    comparison: sideOf(logs, units, 'comparison'),
    runningHours,
    plannedHours: year.plannedHours,
  }
  const known = [...told, ...sideWarnings(logs, before, after, driver), ...unlike]
  const predictedPerYear = expected && promisedPerYear(expected, year)
  if (!baseline || runningHours === 0)
    return {
      ...shown,
      verdict: 'not-enough-data',
      adjustments: [],
      model: null,
      expectedKWh: null,
      savedKWh: null,
      savedShare: null,
      predictedKWh: null,
      savedKWhPerYear: null,
      predictedKWhPerYear: predictedPerYear,
      parts: [],
      degreesOfFreedom: null,
      coverageFactor: null,
      logs: [],
      warnings: known,
    }
  const wholeLogs = driver !== 'cycles'
  const saving = adjustedSaving({ logs, baseline, before, after, sameSensors, wholeLogs })
  const basis = basisOf(logs)
  const { savedJ, halfJ } = saving
  const savedKWh = even(savedJ / J_PER_KWH, halfJ / J_PER_KWH, basis)
  const expectedKWh = even(saving.expectedJ / J_PER_KWH, halfJ / J_PER_KWH, basis)
  const perYear = year.plannedHours / runningHours
  const yearJ = yearHalf(saving, baseline, after, year.plannedHoursLimitShare)
  const predictedKWh = promisedOf(expected, expectedKWh.value, perYear)
  const { rows, fades } = logRows(logs, units, baseline, saving, setup)
  return {
    ...shown,
    verdict: verdictOf(savedKWh, predictedKWh),
    adjustments: [...baseline.adjustments],
    model: baseline.shown,
    expectedKWh,
    savedKWh,
    savedShare: times(savedKWh, 1 / expectedKWh.value),
    predictedKWh,
    savedKWhPerYear: times(even(savedJ, yearJ, basis), perYear / J_PER_KWH),
    predictedKWhPerYear: predictedPerYear,
    parts: [...saving.parts],
    degreesOfFreedom: saving.degrees,
    coverageFactor: saving.factor,
    logs: rows,
    warnings: [
      ...known,
      ...conditionWarnings(before, after, baseline, driver, setup.adjustments),
      ...stateWarnings(baseline.shown, rows, fades, basis),
    ],
  }
}
