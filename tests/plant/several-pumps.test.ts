import { describe, expect, it } from 'vitest'
import { machineFile } from '@/app/_plant/machine-file'
import { simulate } from '@/app/_plant/simulate'
import { machineSchema } from '@/lib/contract/machine'
import { ARRANGEMENTS, type Arrangement, severalMachine } from '../truth/several-machines'

const VISIT = { seed: 9, durationS: 300, rateHz: 10 }
const KINDS = Object.keys(ARRANGEMENTS) as Arrangement[]

describe.each(KINDS)('a simulated unit: %s', (kind) => {
  const spec = severalMachine(kind, 41, 'c')
  const { truth, besideKWh, recording } = simulate(spec, VISIT)
  const l = truth.ledgerKWh

  it('loses no energy', () => {
    const parts = l.motorLoss + l.pumpLoss + l.overRelief + l.unloading + l.metering + l.work
    expect(Math.abs(parts / l.electricIn - 1)).toBeLessThan(1e-6)
    expect(l.hydraulic).toBeCloseTo(l.overRelief + l.unloading + l.intoSystem, 7)
  })

  it('shows its meter the motors and the auxiliaries together', () => {
    const column = recording.columns.find(({ sensor }) => sensor.signal === 'powerW')
    const kWh = Array.from(column?.values ?? []).reduce((sum, kW) => sum + kW / VISIT.rateHz, 0) / 3600
    const offsetKWh = ((column?.sensor.fullScale ?? 0) * 0.02 * VISIT.durationS) / 3.6e3
    expect(Math.abs(kWh - l.electricIn - besideKWh.auxiliaries)).toBeLessThan(offsetKWh)
  })

  it('has a machine file that the contract takes', () => {
    expect(machineSchema.parse(machineFile(spec))).toEqual(machineFile(spec))
  })
})

it('counts what a pilot circuit and a pump gone to tank take', () => {
  expect(simulate(severalMachine('pilot pump', 41, 'c'), VISIT).besideKWh.ownCircuits).toBeGreaterThan(0)
  expect(simulate(severalMachine('high-low', 41, 'c'), VISIT).truth.ledgerKWh.unloading).toBeGreaterThan(0)
})
