import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { Doubt } from './evidence'
import type { ProofLog, Unit } from './units'

/** Variances of a weighed sum of units' energies, J², by where they come from. */
export interface Systematic {
  readonly sensors: number
  readonly models: number
  readonly ofEachLog: number
}

/** Seconds of each kind that the weights count, log by log. */
function weighedSeconds(units: readonly Unit[], weights: readonly number[], logs: number) {
  const seconds = Array.from({ length: logs }, () => ({}) as Partial<Record<PhaseKind, number>>)
  units.forEach(({ log, secondsByKind }, i) => {
    for (const kind of PHASE_KINDS) {
      const own = secondsByKind[kind]
      if (own) seconds[log][kind] = (seconds[log][kind] ?? 0) + weights[i] * own
    }
  })
  return seconds
}

/** What one deviation of a doubted quantity does to the weighed sum, J: in proportion to the time in each kind of phase. */
function effectJ({ byKindJ }: Doubt, log: ProofLog, seconds: Partial<Record<PhaseKind, number>>): number {
  let sum = 0
  for (const kind of PHASE_KINDS) {
    const whole = log.evidence.secondsByKind[kind]
    if (whole) sum += (byKindJ[kind] ?? 0) * ((seconds[kind] ?? 0) / whole)
  }
  return sum
}

/**
 * How sensors and models doubt Σ weight · energy over units of many logs. What a model takes from defaults is the same in
 * every log: its effects add with their signs, and cancel as far as they act on both sides alike. A sensor's offset is
 * drawn anew for each log and never cancels between logs, unless the same sensors stayed fitted. What is a log's own adds
 * in squares (JCGM 100:2008, 5.1.2 and 5.2.2).
 */
export function systematicOf(
  logs: readonly ProofLog[],
  units: readonly Unit[],
  weights: readonly number[],
  sameSensors: boolean,
): Systematic {
  const seconds = weighedSeconds(units, weights, logs.length)
  const common = new Map<string, { of: Doubt['of']; sumJ: number }>()
  let sensors = 0
  let ofEachLog = 0
  logs.forEach((log, l) => {
    const { doubts, ownSdJ, electricJ, sensors: fitted } = log.evidence
    for (const doubt of doubts) {
      const effect = effectJ(doubt, log, seconds[l])
      if (doubt.of === 'sensor' && !sameSensors) {
        sensors += effect ** 2
        continue
      }
      // Another sensor in the same place has an offset of its own.
      const which = doubt.of === 'model' ? '' : fitted.map(({ column }) => column).join('\n')
      const key = `${doubt.source}\n${which}`
      const known = common.get(key)
      common.set(key, { of: doubt.of, sumJ: (known?.sumJ ?? 0) + effect })
    }
    const weighedJ = units.reduce(
      (sum, { log: at, energyJ }, i) => sum + (at === l ? weights[i] * energyJ : 0),
      0,
    )
    if (electricJ > 0) ofEachLog += ((ownSdJ * weighedJ) / electricJ) ** 2
  })
  let models = 0
  for (const { of, sumJ } of common.values()) {
    if (of === 'sensor') sensors += sumJ ** 2
    else models += sumJ ** 2
  }
  return { sensors, models, ofEachLog }
}
