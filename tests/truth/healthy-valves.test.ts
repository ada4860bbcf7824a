import { describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import type { MachineSpec } from '@/app/_plant/spec'
import { analyseCsv } from './against-truth'

/**
 * Findings counted on simulated machines whose state is known: nothing may be reported on a sound one (one or two
 * in a hundred are allowed), and what is wrong must be found where the sensors can see it. TRUTH_TABLE=1 prints
 * the counts.
 */
const LOG_S = 300
const RATE_HZ = 10
const FINE_HZ = 50
const HEALTHY = 100
const ALLOWED = 2
const FAULTY = 6

const printed: string[] = []

/** The same sensors with this many times the noise. */
const noisier = (spec: MachineSpec, times: number): MachineSpec => ({
  ...spec,
  sensors: spec.sensors.map((sensor) => ({ ...sensor, noisePercent: times * sensor.noisePercent })),
})

async function findingsOf(spec: MachineSpec, seed: number): Promise<string[]> {
  const visit = { seed, durationS: LOG_S, rateHz: RATE_HZ, fineHz: FINE_HZ }
  const csv = writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-08-17T06:00:00')
  const { findings } = await analyseCsv(csv, 'state.csv', machineFile(spec))
  return findings.map(({ code }) => code)
}

async function count(specs: readonly MachineSpec[]): Promise<Map<string, string[]>> {
  const found = new Map<string, string[]>()
  for (const [k, spec] of specs.entries()) {
    const codes = await findingsOf(spec, 50 + k)
    for (const code of codes.length > 0 ? codes : ['silent']) {
      found.set(code, [...(found.get(code) ?? []), spec.name])
    }
  }
  return found
}

const lineOf = (title: string, found: ReadonlyMap<string, readonly string[]>) =>
  `${title.padEnd(46)} ${[...found].map(([code, names]) => `${code} ${names.length}`).join(', ')}`

const machines = (number: number, first: number, cases: readonly SensorCase[]) =>
  Array.from({ length: number }, (_, k) => randomMachine(first + k, cases[k % cases.length]))

describe('sound machines', () => {
  it('report nothing: at most two of a hundred, with line flow, with pump flow, with all sensors, some noisy', async () => {
    const specs = machines(HEALTHY, 2000, ['a', 'b', 'c', 'c']).map((spec, k) =>
      k % 5 === 0 ? noisier(spec, 3) : spec,
    )
    const found = await count(specs)
    printed.push(lineOf(`${HEALTHY} sound machines`, found))
    const alarms = new Set([...found].flatMap(([code, names]) => (code === 'silent' ? [] : names)))
    expect([...alarms].length, [...alarms].join(', ')).toBeLessThanOrEqual(ALLOWED)
  }, 400_000)
})

/** A fault put into sound machines, the sensors that can see it, and how many of them must be found. */
const FAULTS: ReadonlyArray<{
  readonly code: string
  readonly sensors: SensorCase
  readonly least: number
  readonly put: (spec: MachineSpec) => MachineSpec
}> = [
  {
    code: 'cracks-early',
    sensors: 'c',
    least: 5,
    put: (spec) => ({ ...spec, relief: { ...spec.relief, crackRatio: spec.relief.crackRatio - 0.28 } }),
  },
  {
    code: 'cracks-early',
    sensors: 'a',
    least: 4,
    put: (spec) => ({ ...spec, relief: { ...spec.relief, crackRatio: spec.relief.crackRatio - 0.28 } }),
  },
  {
    code: 'leaks-below-cracking',
    sensors: 'c',
    least: 5,
    put: (spec) => ({
      ...spec,
      relief: { ...spec.relief, seatLeak: (0.08 * spec.relief.ratedM3S) / spec.relief.settingPa },
    }),
  },
  {
    code: 'setting-drifted',
    sensors: 'c',
    least: 5,
    put: (spec) => ({ ...spec, relief: { ...spec.relief, settingPa: 0.88 * spec.relief.settingPa } }),
  },
  {
    code: 'pump-worn',
    sensors: 'c',
    least: 5,
    put: (spec) => ({ ...spec, pump: { ...spec.pump, leakM3S: 3 * spec.pump.leakM3S } }),
  },
  {
    code: 'pump-worn',
    sensors: 'b',
    least: 5,
    put: (spec) => ({ ...spec, pump: { ...spec.pump, leakM3S: 3 * spec.pump.leakM3S } }),
  },
  {
    code: 'leaks-beyond-relief',
    sensors: 'c',
    least: 4,
    put: (spec) => ({
      ...spec,
      duty: {
        ...spec.duty,
        steps: spec.duty.steps.map((step) =>
          step.kind === 'work-holding'
            ? { kind: step.kind, durationS: step.durationS, flow: [0.04, 0.041] as const }
            : step,
        ),
      },
    }),
  },
]

describe('machines with one fault', () => {
  it.each(FAULTS)(
    '$code with sensors $sensors is found in $least of six at least',
    async (fault) => {
      const able = machines(60, 3000, [fault.sensors]).filter(
        ({ duty }) =>
          fault.code !== 'leaks-beyond-relief' || duty.steps.some(({ kind }) => kind === 'work-holding'),
      )
      const found = await count(able.slice(0, FAULTY).map(fault.put))
      printed.push(lineOf(`${FAULTY} with ${fault.code}, sensors ${fault.sensors}`, found))
      expect(found.get(fault.code)?.length ?? 0).toBeGreaterThanOrEqual(fault.least)
    },
    60_000,
  )

  it('prints what was counted', () => {
    if (process.env.TRUTH_TABLE) console.log(printed.join('\n'))
    expect(printed).toHaveLength(FAULTS.length + 1)
  })
})
