import type { Estimate } from '@/lib/contract/estimate'
import type { Trial } from '@/lib/contract/proof'
import { meanOf } from '@/lib/numeric/mean'
import { J_PER_KWH } from '@/lib/units'
import type { LogEvidence } from './evidence'
import { halfWidth } from './factor'
import { systematicOf } from './systematic'
import { levelShifts } from './trial-levels'
import { type ComparedSides, compareSides, shownSide, type TrialSide, trialSide } from './trial-sides'
import { cycleUnits, type ProofLog, type Unit } from './units'
import { verdictOf } from './verdict'
import { type ProofWarning, warning } from './warning'

/** Cycles that a side should have (the trade's usual trial; common practice, no source). */
const FEW_CYCLES = 10
/** Neighbouring cycles that are more alike than this stand for far fewer. */
const ALIKE = 0.5
/** Means of idle or working time that differ by more than this share are another duty (common practice, no source). */
const OTHER_DUTY_SHARE = 0.1

/** Where the cycles before and after were driven otherwise and the trial cannot take it into account. */
function dutyWarnings(before: TrialSide, after: TrialSide, { adjustments }: ComparedSides): ProofWarning[] {
  return (['idle-time', 'working-time'] as const).flatMap((variable) => {
    if (adjustments.includes(variable)) return []
    const [was, is] = [before, after].map(({ units }) => meanOf(units.map(({ adjust }) => adjust[variable])))
    if (Math.abs(is - was) <= OTHER_DUTY_SHARE * was) return []
    return [warning('trial-duty-differs', { variable, beforeS: was, afterS: is })]
  })
}

/** What the same sensors and models leave of doubt in a mean before less a mean after, J. */
function sensorsSd(
  of: ProofLog,
  all: readonly Unit[],
  before: TrialSide,
  after: TrialSide,
  savedJ: number,
): number {
  const weights = [
    ...before.units.map(() => 1 / before.units.length),
    ...after.units.map(() => -1 / after.units.length),
  ]
  const { sensors, models, ofEachLog } = systematicOf([of], [...before.units, ...after.units], weights, true)
  // Within a kind of phase an offset acts alike on both sides only as far as the state is the same: as an error of the
  // whole energy in proportion it acts on the difference.
  const whole = systematicOf(
    [of],
    all,
    all.map(() => 1),
    true,
  )
  const totalJ = all.reduce((sum, { energyJ }) => sum + energyJ, 0)
  const share = totalJ > 0 ? Math.sqrt(whole.sensors + whole.models) / totalJ : 0
  return Math.sqrt(sensors + models + ofEachLog + (share * savedJ) ** 2)
}

const over = ({ value, low, high, basis }: Estimate, divisor: number): Estimate => ({
  value: value / divisor,
  low: low / divisor,
  high: high / divisor,
  basis,
})

function savingOf(log: LogEvidence, { before, after }: ComparedSides, sensorsJ: number) {
  const savedJ = before.energyJ - after.energyJ
  const scatter = [before.spread, after.spread]
  const sensors = { sd: sensorsJ, degrees: Number.POSITIVE_INFINITY }
  const { half, degrees, factor } = halfWidth([...scatter, sensors])
  const saved = over({ value: savedJ, low: savedJ - half, high: savedJ + half, basis: log.basis }, J_PER_KWH)
  const scatterJ = Math.hypot(...scatter.map(({ sd }) => sd))
  return {
    verdict: verdictOf(saved, null),
    savedKWhPerCycle: saved,
    savedShare: over(saved, before.energyJ / J_PER_KWH),
    t: scatterJ > 0 ? savedJ / scatterJ : null,
    degreesOfFreedom: degrees,
    scatterKWh: (factor * scatterJ) / J_PER_KWH,
    sensorsKWh: (factor * sensorsJ) / J_PER_KWH,
  }
}

const NOTHING = {
  verdict: 'not-enough-data' as const,
  savedKWhPerCycle: null,
  savedShare: null,
  t: null,
  degreesOfFreedom: null,
  scatterKWh: 0,
  sensorsKWh: 0,
}

/**
 * Whole cycles before and after a setting was changed by hand, in one log: Welch's t on their energies at the same idle and
 * working times, with as many cycles as their likeness to their neighbours leaves, and what the same sensors leave of doubt
 * on top.
 * @param atS when it was changed, elapsed seconds; the cycle that holds the moment does not count
 * @param wanted cycles compared on either side at most
 */
export function sameDayTrial(log: LogEvidence, atS: number, wanted: number): Trial {
  const { cycles } = log
  const of: ProofLog = { logId: '', side: 'baseline', evidence: log, pieces: null }
  const all = cycleUnits([of])
  const indices = all.map((_, k) => k)
  const before = trialSide(all, indices.filter((k) => cycles.endS[k] <= atS).slice(-wanted))
  const after = trialSide(all, indices.filter((k) => cycles.startS[k] >= atS).slice(0, wanted))
  const compared = compareSides(before, after)
  const sides = {
    before: shownSide(log, before, compared?.before ?? null),
    after: shownSide(log, after, compared?.after ?? null),
  }
  const { here, elsewhere } = levelsNear(log, before, after)
  const warnings: ProofWarning[] = []
  for (const side of ['before', 'after'] as const)
    if (sides[side].cycles < FEW_CYCLES)
      warnings.push(warning('few-trial-cycles', { side, count: sides[side].cycles, wanted: FEW_CYCLES }))
  if (compared) {
    const lag1 = Math.max(compared.before.fit.shown.lag1, compared.after.fit.shown.lag1)
    if (lag1 > ALIKE) warnings.push(warning('cycles-alike', { lag1 }))
    warnings.push(...dutyWarnings(before, after, compared))
    if (elsewhere !== null) warnings.push(warning('change-elsewhere', { atS: elsewhere }))
    else if (!here) warnings.push(warning('no-change-seen', { atS }))
  }
  if (log.basis !== 'measured') warnings.push(warning('input-not-measured', { basis: log.basis }))
  const savedJ = compared ? compared.before.energyJ - compared.after.energyJ : 0
  const saving = compared ? savingOf(log, compared, sensorsSd(of, all, before, after, savedJ)) : NOTHING
  return {
    version: 1,
    ...sides,
    ...saving,
    adjustments: compared ? [...compared.adjustments] : [],
    levelChange: here,
    warnings,
  }
}

/** Levels of the compared cycles; where else they changed as elapsed seconds. */
function levelsNear({ cycles }: LogEvidence, before: TrialSide, after: TrialSide) {
  const indices = [...before.indices, ...after.indices]
  const { here, elsewhere } = levelShifts(
    {
      idlePa: indices.map((k) => cycles.idlePa[k]),
      highestPa: indices.map((k) => cycles.highestPa[k]),
    },
    before.indices.length,
  )
  return { here, elsewhere: elsewhere === null ? null : cycles.startS[indices[elsewhere]] }
}
