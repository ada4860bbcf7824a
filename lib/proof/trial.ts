import type { Estimate } from '@/lib/contract/estimate'
import type { Trial } from '@/lib/contract/proof'
import { effectiveCount, lagOne } from '@/lib/numeric/autocorrelation'
import { J_PER_KWH } from '@/lib/units'
import type { LogEvidence } from './evidence'
import { halfWidth } from './factor'
import { systematicOf } from './systematic'
import { levelShifts } from './trial-levels'
import { cycleUnits, idleS, type ProofLog, type Unit, workS } from './units'
import { verdictOf } from './verdict'
import { type ProofWarning, warning } from './warning'

/** Cycles that a side needs, and should have (the trade's usual trial; common practice, no source). */
const LEAST_CYCLES = 3
const FEW_CYCLES = 10
/** Neighbouring cycles that are more alike than this stand for far fewer. */
const ALIKE = 0.5

const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length
function varianceOf(values: readonly number[]): number {
  const mean = meanOf(values)
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1)
}

/** Means of idle or working time that differ by more than this share are another duty (common practice, no source). */
const OTHER_DUTY_SHARE = 0.1

interface Half {
  readonly indices: readonly number[]
  readonly energiesJ: readonly number[]
}

function half({ cycles }: LogEvidence, indices: readonly number[]): Half {
  return { indices, energiesJ: indices.map((k) => cycles.energyJ[k]) }
}

function sideOf({ cycles }: LogEvidence, { indices, energiesJ }: Half, lag1: number): Trial['before'] {
  const [first, last] = [indices[0], indices[indices.length - 1]]
  const isEmpty = indices.length === 0
  return {
    cycles: indices.length,
    fromS: isEmpty ? 0 : cycles.startS[first],
    toS: isEmpty ? 0 : cycles.endS[last],
    kWhPerCycle: isEmpty ? 0 : meanOf(energiesJ) / J_PER_KWH,
    spreadKWh: indices.length > 1 ? Math.sqrt(varianceOf(energiesJ)) / J_PER_KWH : 0,
    effectiveCycles: effectiveCount(indices.length, lag1),
  }
}

/** Where the cycles before and after were driven otherwise: the trial compares them as they are. */
function dutyWarnings(log: LogEvidence, before: Half, after: Half): ProofWarning[] {
  const units = cycleUnits([{ logId: '', side: 'baseline', evidence: log, pieces: null }])
  const times = [
    ['idle-time', idleS],
    ['working-time', workS],
  ] as const
  return times.flatMap(([variable, secondsOf]) => {
    const [was, is] = [before, after].map(({ indices }) =>
      meanOf(indices.map((k) => secondsOf(units[k].secondsByKind))),
    )
    if (Math.abs(is - was) <= OTHER_DUTY_SHARE * was) return []
    return [warning('trial-duty-differs', { variable, beforeS: was, afterS: is })]
  })
}

/** What the same sensors and models leave of doubt in a mean before less a mean after, J. */
function sensorsSd(log: LogEvidence, before: Half, after: Half, savedJ: number): number {
  const of: ProofLog = { logId: '', side: 'baseline', evidence: log, pieces: null }
  const all = cycleUnits([of])
  const units: Unit[] = [...before.indices, ...after.indices].map((k) => all[k])
  const weights = [
    ...before.indices.map(() => 1 / before.indices.length),
    ...after.indices.map(() => -1 / after.indices.length),
  ]
  const { sensors, models, ofEachLog } = systematicOf([of], units, weights, true)
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

/**
 * Whole cycles before and after a setting was changed by hand, in one log: Welch's t on their energies, with as many
 * cycles as their likeness to their neighbours leaves, and what the same sensors leave of doubt on top.
 * @param atS when it was changed, elapsed seconds; the cycle that holds the moment does not count
 * @param wanted cycles compared on either side at most
 */
export function sameDayTrial(log: LogEvidence, atS: number, wanted: number): Trial {
  const { cycles } = log
  const all = cycles.startS.map((_, k) => k)
  const before = half(log, all.filter((k) => cycles.endS[k] <= atS).slice(-wanted))
  const after = half(log, all.filter((k) => cycles.startS[k] >= atS).slice(0, wanted))
  const enough = Math.min(before.indices.length, after.indices.length) >= LEAST_CYCLES
  const around = [before, after].map(({ energiesJ }) => {
    const mean = meanOf(energiesJ)
    return energiesJ.map((energy) => energy - mean)
  })
  const lag1 = enough ? lagOne(around) : 0
  const sides = { before: sideOf(log, before, lag1), after: sideOf(log, after, lag1) }
  const { here, elsewhere } = levelsNear(log, before, after)
  const warnings: ProofWarning[] = []
  for (const side of ['before', 'after'] as const)
    if (sides[side].cycles < FEW_CYCLES)
      warnings.push(warning('few-trial-cycles', { side, count: sides[side].cycles, wanted: FEW_CYCLES }))
  if (lag1 > ALIKE) warnings.push(warning('cycles-alike', { lag1 }))
  if (enough) warnings.push(...dutyWarnings(log, before, after))
  if (enough && elsewhere !== null) warnings.push(warning('change-elsewhere', { atS: elsewhere }))
  else if (enough && !here) warnings.push(warning('no-change-seen', { atS }))
  if (log.basis !== 'measured') warnings.push(warning('input-not-measured', { basis: log.basis }))
  const nothing = { savedKWhPerCycle: null, savedShare: null, t: null, degreesOfFreedom: null }
  if (!enough)
    return {
      version: 1,
      verdict: 'not-enough-data',
      ...sides,
      ...nothing,
      scatterKWh: 0,
      sensorsKWh: 0,
      levelChange: here,
      warnings,
    }
  return { version: 1, ...sides, ...compared(log, before, after, lag1), levelChange: here, warnings }
}

function compared(log: LogEvidence, before: Half, after: Half, lag1: number) {
  const savedJ = meanOf(before.energiesJ) - meanOf(after.energiesJ)
  const scatter = [before, after].map(({ energiesJ }) => {
    const count = effectiveCount(energiesJ.length, lag1)
    return { sd: Math.sqrt(varianceOf(energiesJ) / count), degrees: Math.max(1, count - 1) }
  })
  const sensors = { sd: sensorsSd(log, before, after, savedJ), degrees: Number.POSITIVE_INFINITY }
  const { half: halfJ, degrees, factor } = halfWidth([...scatter, sensors])
  const saved: Estimate = {
    value: savedJ / J_PER_KWH,
    low: (savedJ - halfJ) / J_PER_KWH,
    high: (savedJ + halfJ) / J_PER_KWH,
    basis: log.basis,
  }
  const beforeKWh = meanOf(before.energiesJ) / J_PER_KWH
  const scatterJ = Math.hypot(...scatter.map(({ sd }) => sd))
  return {
    verdict: verdictOf(saved, null),
    savedKWhPerCycle: saved,
    savedShare: {
      ...saved,
      value: saved.value / beforeKWh,
      low: saved.low / beforeKWh,
      high: saved.high / beforeKWh,
    },
    t: scatterJ > 0 ? savedJ / scatterJ : null,
    degreesOfFreedom: degrees,
    scatterKWh: (factor * scatterJ) / J_PER_KWH,
    sensorsKWh: (factor * sensors.sd) / J_PER_KWH,
  }
}

/** Levels of the compared cycles; where else they changed as elapsed seconds. */
function levelsNear({ cycles }: LogEvidence, before: Half, after: Half) {
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
