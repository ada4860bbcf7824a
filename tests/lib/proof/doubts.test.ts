import { describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import { PHASE_KINDS } from '@/lib/contract/result'
import { readLog } from '@/lib/import/read-log'
import { accountFor } from '@/lib/ledger/ledger'
import { COVERAGE, ownVariance, reachOfSum } from '@/lib/ledger/propagate'
import { kindIndex } from '@/lib/ledger/totals'
import { findCycles } from '@/lib/phases/cycles'
import { logEvidence } from '@/lib/proof/log-evidence'

async function recorded(sensors: SensorCase, seed: number) {
  const spec = randomMachine(seed, sensors)
  const visit = { seed, durationS: 600, rateHz: 2, fineHz: 20 }
  const csv = writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-08-03T06:00:00')
  async function* bytes() {
    yield new TextEncoder().encode(csv)
  }
  const machine = machineFile(spec)
  const { trace } = await readLog(bytes(), { fileName: 'doubts.csv', machine, timeZone: 'UTC' })
  const ledger = accountFor(trace, machine)
  return { ledger, evidence: logEvidence(ledger, findCycles(ledger.segmentation.phases)) }
}

describe.each(['a', 'b', 'c'] as const)('the doubt of a log’s input, case (%s)', (sensors) => {
  it('is split into sensors, models and its own without anything lost', async () => {
    const { ledger, evidence } = await recorded(sensors, 7)
    const weights = new Map(PHASE_KINDS.map((kind) => [kindIndex(kind, 'electricIn'), 1]))
    const { below, above } = reachOfSum(ledger.sensitivity, weights)
    const whole = (below ** 2 + above ** 2) / 2 / COVERAGE ** 2
    const edges = ledger.sensitivity.own
      .filter(({ source }) => source === 'edges')
      .reduce((sum, own) => sum + ownVariance(own, weights), 0)
    const told = evidence.doubts.reduce((sum, { byKindJ }) => {
      const effect = Object.values(byKindJ).reduce((total, of) => total + of, 0)
      return sum + effect ** 2
    }, 0)
    const shown = told + evidence.ownSdJ ** 2 + edges
    expect(Math.abs(shown / whole - 1)).toBeLessThan(1e-3)
  })

  it('knows models from sensors: only current asks for a motor', async () => {
    const { evidence } = await recorded(sensors, 8)
    const models = evidence.doubts.filter(({ of }) => of === 'model')
    if (sensors === 'c') expect(models).toEqual([])
    else expect(models.map(({ source }) => source)).toContain('noLoadCurrent')
    expect(evidence.doubts.filter(({ of }) => of === 'sensor').length).toBeGreaterThan(0)
  })

  it('and its cycles hold the energy of their steps', async () => {
    const { evidence } = await recorded(sensors, 7)
    const { cycles, electricJ } = evidence
    expect(cycles.energyJ.length).toBeGreaterThan(3)
    const inCycles = cycles.energyJ.reduce((sum, energy) => sum + energy, 0)
    expect(inCycles).toBeGreaterThan(0.5 * electricJ)
    expect(inCycles).toBeLessThan(electricJ)
    cycles.startS.forEach((startS, k) => {
      const seconds = Object.values(cycles.seconds).reduce((sum, column) => sum + (column?.[k] ?? 0), 0)
      expect(seconds).toBeCloseTo(cycles.endS[k] - startS, 6)
    })
  })
})
