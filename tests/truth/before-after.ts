import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import type { Simulated } from '@/app/_plant/simulate'
import type { Change, MachineSpec, Visit } from '@/app/_plant/spec'
import type { Machine } from '@/lib/contract/machine'
import { readLog } from '@/lib/import/read-log'
import { accountFor } from '@/lib/ledger/ledger'
import { seededRandom } from '@/lib/numeric/random'
import { findCycles } from '@/lib/phases/cycles'
import type { LogEvidence } from '@/lib/proof/evidence'
import { logEvidence } from '@/lib/proof/log-evidence'
import { J_PER_KWH } from '@/lib/units'

/** What a log says for a proof, from its CSV on as an import would. */
export async function evidenceOf(simulated: Simulated, machine: Machine, day: number): Promise<LogEvidence> {
  const startedAt = `2026-08-${String(day).padStart(2, '0')}T06:00:00` as const
  const csv = writeCsv(simulated.recording, 'comma-iso', startedAt as Parameters<typeof writeCsv>[2])
  async function* bytes() {
    yield new TextEncoder().encode(csv)
  }
  const { trace } = await readLog(bytes(), { fileName: 'proof.csv', machine, timeZone: 'UTC' })
  const ledger = accountFor(trace, machine)
  return logEvidence(ledger, findCycles(ledger.segmentation.phases))
}

/** Input of the cycles that the analysis found, kWh: segments that lie in one only partly count in proportion. */
export function inCyclesKWh({ segments }: Simulated, { cycles }: Pick<LogEvidence, 'cycles'>): number {
  let sumJ = 0
  cycles.startS.forEach((startS, k) => {
    for (const segment of segments) {
      const overlap = Math.min(segment.endS, cycles.endS[k]) - Math.max(segment.startS, startS)
      if (overlap > 0) sumJ += (segment.inputJ * overlap) / (segment.endS - segment.startS)
    }
  })
  return sumJ / J_PER_KWH
}

/** A machine that idles over its relief, with something that is done about it. */
export function machineAndChange(seed: number): { spec: MachineSpec; change: Change; machine: Machine } {
  const random = seededRandom(seed * 7919)
  const sensors: SensorCase = (['a', 'b', 'c'] as const)[seed % 3]
  const drawn = randomMachine(seed, sensors)
  const shortest = sensors === 'c' ? 6 : 20
  const idle = shortest + 10 * random()
  const spec: MachineSpec = {
    ...drawn,
    unloading: { kind: 'none', pressureBar: 5 },
    duty: { ...drawn.duty, idleKind: 'idle-loaded', idleS: [idle, idle * 1.5] },
    oil: { ...drawn.oil, timeConstantS: 900 },
  }
  const settingBar = spec.plates.relief.settingBar
  const change: Change =
    random() < 0.6
      ? { id: 'vent-relief-at-idle', ventBar: 4 + 3 * random(), delayS: 0.5 }
      : random() < 0.5
        ? { id: 'lower-relief-setting', settingBar: Math.round(settingBar * (0.88 + 0.1 * random())) }
        : { id: 'second-relief-setting', lowSettingBar: Math.round(settingBar * 0.75), marginBar: 10 }
  // A person says in the set-up how the machine unloads from now on; logs of before are analysed with it too.
  const unloading =
    change.id === 'vent-relief-at-idle'
      ? { kind: 'vented-relief' as const, pressureBar: Math.round(change.ventBar) }
      : spec.unloading
  return { spec, change, machine: machineFile({ ...spec, unloading }) }
}

export interface Shift {
  /** Idles are this much longer than the machine's usual ones. */
  readonly idle: number
  readonly settledC: number
}

/** The machine as another shift drives it. */
export function onShift(spec: MachineSpec, { idle, settledC }: Shift): MachineSpec {
  const [low, high] = spec.duty.idleS
  return {
    ...spec,
    duty: { ...spec.duty, idleS: [low * idle, high * idle] },
    oil: { ...spec.oil, startC: settledC - 5, settledC },
  }
}

/** A short visit of the logger. */
export function visitOf(seed: number, durationS: number, rest: Partial<Visit> = {}): Visit {
  return { seed, durationS, rateHz: 2, fineHz: 20, ...rest }
}
