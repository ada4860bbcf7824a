import type { LogEvidence } from '@/lib/proof/evidence'
import type { ProofLog, Side } from '@/lib/proof/units'
import { J_PER_KWH } from '@/lib/units'

export interface MadeCycle {
  readonly kWh: number
  readonly idleS?: number
  readonly workS?: number
  readonly oilC?: number | null
  readonly idleBar?: number
  readonly highestBar?: number
}

/** What a log of these cycles would say, one after the other from 100 s on; no doubt of sensors and models. */
export function madeEvidence(cycles: readonly MadeCycle[], rest: Partial<LogEvidence> = {}): LogEvidence {
  const idle = cycles.map(({ idleS = 30 }) => idleS)
  const work = cycles.map(({ workS = 20 }) => workS)
  const endS: number[] = []
  let clock = 100
  const startS = cycles.map((_, k) => {
    const from = clock
    clock += idle[k] + work[k]
    endS.push(clock)
    return from
  })
  const energyJ = cycles.map(({ kWh }) => kWh * J_PER_KWH)
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
  return {
    version: 1,
    startedAtMs: Date.UTC(2026, 7, 3),
    durationS: clock,
    sampleIntervalS: 1,
    electricJ: sum(energyJ),
    secondsByKind: { 'idle-loaded': sum(idle), 'work-moving': sum(work), stopped: 100 },
    energyByKindJ: { 'idle-loaded': sum(energyJ) / 2, 'work-moving': sum(energyJ) / 2, stopped: 0 },
    basis: 'measured',
    cycles: {
      startS,
      endS,
      energyJ,
      seconds: { 'idle-loaded': idle, 'work-moving': work },
      loadPa: cycles.map(() => null),
      oilC: cycles.map(({ oilC = null }) => oilC),
      idlePa: cycles.map(({ idleBar = 160 }) => idleBar * 1e5),
      highestPa: cycles.map(({ highestBar = 160 }) => highestBar * 1e5),
    },
    doubts: [],
    ownSdJ: 0,
    sensors: [{ column: 'P [kW]', quantity: 'power', location: 'motor-supply', accuracy: null }],
    loadPa: null,
    oilC: null,
    reliefSettingPa: null,
    ...rest,
  }
}

export function madeLog(
  logId: string,
  side: Side,
  cycles: readonly MadeCycle[],
  rest: Partial<LogEvidence> & { readonly pieces?: number | null; readonly day?: number } = {},
): ProofLog {
  const { pieces = null, day = side === 'baseline' ? 0 : 30, ...evidence } = rest
  const startedAtMs = Date.UTC(2026, 7, 3 + day)
  return { logId, side, evidence: madeEvidence(cycles, { startedAtMs, ...evidence }), pieces }
}
