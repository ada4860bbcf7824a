import { describe, expect, it } from 'vitest'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine } from '@/app/_plant/random-machine'
import { savedShare, simulate } from '@/app/_plant/simulate'
import type { Change, MachineSpec, Visit } from '@/app/_plant/spec'
import { machineSchema } from '@/lib/contract/machine'

const VISIT: Visit = { seed: 5, durationS: 600, rateHz: 10 }
const MACHINES = [3, 8, 21, 34].map((seed) => randomMachine(seed, 'c'))
const loaded = (spec: MachineSpec): MachineSpec => ({
  ...spec,
  unloading: { kind: 'none', pressureBar: 5 },
  duty: { ...spec.duty, idleKind: 'idle-loaded', idleS: [25, 35] },
})

describe('simulated machine', () => {
  it('loses no energy: every part is summed on its own and they add up to the input', () => {
    for (const spec of MACHINES) {
      const l = simulate(spec, VISIT).truth.ledgerKWh
      const parts = l.motorLoss + l.pumpLoss + l.overRelief + l.unloading + l.metering + l.work
      expect(Math.abs(parts / l.electricIn - 1)).toBeLessThan(1e-7)
      expect(l.hydraulic).toBeCloseTo(l.overRelief + l.unloading + l.intoSystem, 7)
    }
  })

  it('is the same every time, and another for another seed', () => {
    const [spec] = MACHINES
    const first = simulate(spec, VISIT)
    const again = simulate(spec, VISIT)
    expect(again.recording.columns.map(({ values }) => [...values])).toEqual(
      first.recording.columns.map(({ values }) => [...values]),
    )
    expect(again.truth).toEqual(first.truth)
    expect(simulate(spec, { ...VISIT, seed: 6 }).truth.ledgerKWh.electricIn).not.toBe(
      first.truth.ledgerKWh.electricIn,
    )
  })

  it('does not depend on its step: 50 and 200 steps a second agree within 0.5 % of the input', () => {
    for (const spec of MACHINES) {
      const coarse = simulate(spec, { ...VISIT, fineHz: 50 }).truth.ledgerKWh
      const fine = simulate(spec, { ...VISIT, fineHz: 200 }).truth.ledgerKWh
      for (const key of [
        'electricIn',
        'motorLoss',
        'pumpLoss',
        'overRelief',
        'unloading',
        'intoSystem',
      ] as const) {
        expect(Math.abs(coarse[key] - fine[key]) / fine.electricIn).toBeLessThan(0.005)
      }
    }
  })

  it('phases cover the log without hole or overlap', () => {
    for (const spec of MACHINES) {
      const { phases } = simulate(spec, VISIT).truth
      expect(phases[0].startS).toBe(0)
      expect(phases[phases.length - 1].endS).toBe(VISIT.durationS)
      for (let i = 1; i < phases.length; i += 1) expect(phases[i].startS).toBe(phases[i - 1].endS)
    }
  })

  it('a gap takes its rows, its phases and its energy out of the truth', () => {
    const [spec] = MACHINES
    const gap = { startS: 200, endS: 320 }
    const whole = simulate(spec, VISIT)
    const cut = simulate(spec, { ...VISIT, gaps: [gap] })
    expect(whole.recording.timeS.length - cut.recording.timeS.length).toBe(1200)
    expect(cut.recording.timeS.some((t) => t >= gap.startS && t < gap.endS)).toBe(false)
    expect(cut.truth.phases.some((p) => p.startS < gap.endS && p.endS > gap.startS)).toBe(false)
    expect(cut.truth.ledgerKWh.electricIn).toBeLessThan(whole.truth.ledgerKWh.electricIn)
    const missing = simulate(spec, {
      ...VISIT,
      gaps: [
        { startS: 0, endS: 200 },
        { startS: 320, endS: 600 },
      ],
    })
    const sum = cut.truth.ledgerKWh.electricIn + missing.truth.ledgerKWh.electricIn
    expect(sum / whole.truth.ledgerKWh.electricIn).toBeCloseTo(1, 9)
  })

  it('sensors stray within their accuracy: zero readings of a stopped machine over many logs', () => {
    const [spec] = MACHINES
    const off = { ...spec, duty: { ...spec.duty, stoppedS: [60, 60] as const } }
    const sensor = spec.sensors[0]
    const limit = (sensor.offsetPercent / 100) * sensor.fullScale
    let inside = 0
    const logs = 60
    for (let seed = 1; seed <= logs; seed += 1) {
      const { columns } = simulate(off, { seed: seed * 17, durationS: 30, rateHz: 10 }).recording
      const mean = columns[0].values.reduce((a, b) => a + b, 0) / columns[0].values.length
      if (Math.abs(mean) < limit * 1.15) inside += 1
    }
    expect(inside / logs).toBeGreaterThan(0.85)
    expect(inside).toBeLessThan(logs + 1)
  })

  it('shows nil current and pressure once the motor has been off for a second', () => {
    for (const spec of MACHINES) {
      const busy = { ...spec.duty, pause: { share: 0.5, durationS: [20, 40] as const, stopShare: 1 } }
      const { recording, truth } = simulate({ ...spec, duty: busy }, VISIT)
      const stops = truth.phases.filter(({ kind }) => kind === 'stopped')
      expect(stops.length).toBeGreaterThan(2)
      for (const { sensor, values } of recording.columns) {
        const means = stops.map(({ startS, endS }) => {
          const inside = values.filter(
            (_, row) => recording.timeS[row] > startS + 1 && recording.timeS[row] < endS,
          )
          return Math.abs(inside.reduce((a, b) => a + b, 0)) / inside.length
        })
        expect(Math.max(...means)).toBeLessThan(0.02 * sensor.fullScale)
      }
    }
  })

  it('loses cells as told', () => {
    const { columns } = simulate(MACHINES[0], { ...VISIT, lostShare: 0.02 }).recording
    const lost = columns[0].values.filter(Number.isNaN).length / columns[0].values.length
    expect(lost).toBeGreaterThan(0.01)
    expect(lost).toBeLessThan(0.03)
  })

  it('the machine file is valid by the contract and holds plates only', () => {
    for (const spec of MACHINES) {
      const file = machineFile(spec)
      expect(machineSchema.parse(JSON.parse(JSON.stringify(file)))).toEqual(file)
      expect(file.pump.volumetricEfficiency).toBe(Number(file.pump.volumetricEfficiency.toFixed(2)))
    }
  })
})

describe('the same demand with a changed supply', () => {
  const share = (spec: MachineSpec, change: Change) => savedShare(spec, VISIT, change)

  it('venting, compensating and stopping save on a machine that idles over its relief', () => {
    for (const spec of MACHINES.map(loaded)) {
      const bar = spec.plates.relief.settingBar
      const vent = share(spec, { id: 'vent-relief-at-idle', ventBar: 5, delayS: 0.5 })
      expect(vent).toBeGreaterThan(0.2)
      expect(share(spec, { id: 'vent-relief-at-idle', ventBar: 20, delayS: 0.5 })).toBeLessThan(vent)
      expect(share(spec, { id: 'vent-relief-at-idle', ventBar: 5, delayS: 5 })).toBeLessThan(vent)
      expect(share(spec, { id: 'pressure-compensated-pump', compensatorBar: bar - 10 })).toBeGreaterThan(0.2)
      expect(share(spec, { id: 'stop-motor-at-idle', waitS: 5 })).toBeGreaterThan(0.1)
    }
  })

  it('a lower setting saves about its share of the pressure where nearly all goes over the relief', () => {
    const [spec] = MACHINES.map(loaded)
    const still = { ...spec, duty: { ...spec.duty, workless: true } }
    const settingBar = spec.plates.relief.settingBar * 0.8
    const saved = share(still, { id: 'lower-relief-setting', settingBar })
    expect(saved).toBeGreaterThan(0.12)
    expect(saved).toBeLessThan(0.22)
  })

  it('a change that changes nothing saves nothing', () => {
    for (const spec of MACHINES) {
      const settingBar = spec.relief.settingPa / 1e5
      expect(Math.abs(share(spec, { id: 'lower-relief-setting', settingBar }))).toBeLessThan(1e-9)
      expect(share(spec, { id: 'stop-motor-at-idle', waitS: 1e6 })).toBe(0)
    }
  })

  it('work does not change with the supply', () => {
    for (const spec of MACHINES.map(loaded)) {
      const before = simulate(spec, VISIT).truth.ledgerKWh
      const after = simulate(spec, VISIT, { id: 'vent-relief-at-idle', ventBar: 5, delayS: 0.5 }).truth
        .ledgerKWh
      expect(Math.abs(after.work - before.work) / before.electricIn).toBeLessThan(0.003)
    }
  })
})
