import type { Adjustment, ProofSetup } from '@/lib/contract/proof'
import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import { S_PER_HOUR } from '@/lib/units'
import type { ByKind, LogEvidence } from './evidence'

export type Side = 'baseline' | 'comparison'

/** A log on one side of a comparison. */
export interface ProofLog {
  readonly logId: string
  readonly side: Side
  readonly evidence: LogEvidence
  /** Pieces made while it ran; null where nobody counted. */
  readonly pieces: number | null
}

/** What energies are compared by: a cycle, or a whole log. */
export interface Unit {
  /** Index of its log. */
  readonly log: number
  readonly energyJ: number
  readonly driver: number
  /** Each adjustment's value; NaN where it was not logged. */
  readonly adjust: Readonly<Record<Adjustment, number>>
  readonly secondsByKind: ByKind
  readonly runningS: number
}

const OFF: readonly PhaseKind[] = ['stopped']
const RUNNING = PHASE_KINDS.filter((kind) => !OFF.includes(kind))
const sumOf = (seconds: ByKind, wanted: (kind: PhaseKind) => boolean) =>
  RUNNING.reduce((sum, kind) => sum + (wanted(kind) ? (seconds[kind] ?? 0) : 0), 0)

export const idleS = (seconds: ByKind) => sumOf(seconds, (kind) => kind.startsWith('idle'))
export const workS = (seconds: ByKind) => sumOf(seconds, (kind) => kind.startsWith('work'))
const runningS = (seconds: ByKind) => sumOf(seconds, () => true)

function adjustOf(seconds: ByKind, loadPa: number | null, oilC: number | null): Unit['adjust'] {
  return {
    'idle-time': idleS(seconds),
    'working-time': workS(seconds),
    'load-pressure': loadPa ?? Number.NaN,
    'oil-temperature': oilC ?? Number.NaN,
  }
}

/** Every whole cycle of the logs. */
export function cycleUnits(logs: readonly ProofLog[]): Unit[] {
  return logs.flatMap(({ evidence: { cycles } }, log) =>
    cycles.energyJ.map((energyJ, k) => {
      const seconds = Object.fromEntries(
        Object.entries(cycles.seconds).map(([kind, column]) => [kind, column?.[k] ?? 0]),
      ) as ByKind
      return {
        log,
        energyJ,
        driver: 1,
        adjust: adjustOf(seconds, cycles.loadPa[k], cycles.oilC[k]),
        secondsByKind: seconds,
        runningS: runningS(seconds),
      }
    }),
  )
}

/** Every log as one unit, its energy while the motor ran; those without the driver are left out. */
export function logUnits(logs: readonly ProofLog[], driver: Exclude<ProofSetup['driver'], 'cycles'>): Unit[] {
  return logs.flatMap(({ evidence, pieces }, log) => {
    const { secondsByKind, energyByKindJ, loadPa, oilC } = evidence
    const seconds = runningS(secondsByKind)
    const amount = driver === 'production' ? pieces : seconds / S_PER_HOUR
    if (amount === null || seconds === 0) return []
    return {
      log,
      energyJ: RUNNING.reduce((sum, kind) => sum + (energyByKindJ[kind] ?? 0), 0),
      driver: amount,
      adjust: adjustOf(secondsByKind, loadPa, oilC),
      secondsByKind,
      runningS: seconds,
    }
  })
}
