import { afterAll, describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import type { MachineSpec, Sensor, Signal, Visit } from '@/app/_plant/spec'
import { readLog } from '@/lib/import/read-log'
import { highestPressurePa } from '@/lib/ledger/ledger'
import { machineModel } from '@/lib/machine/machine-model'
import { findCycles } from '@/lib/phases/cycles'
import { segment } from '@/lib/phases/segment'
import { readSensors } from '@/lib/samples/sensors'
import { classesRight } from './against-truth'
import { boundaryErrorS, trueCycles } from './phase-truth'

/**
 * Phases of simulated machines (app/_plant shares no code with lib) from 1 Hz to 1 kHz, with what sensors do to
 * them. Wanted (issue 3): boundaries within one sample or 100 ms in the median, 98.5 % of the time in the right
 * class from 5 Hz up, the number of phases within a tenth of the truth. TRUTH_TABLE=1 prints every run.
 */
const CLASSES_RIGHT = 0.985
const BOUNDARY_S = 0.1
const PHASES_SHARE = 0.1
/** In short logs a phase or two more are no tenth of the truth. */
const PHASES_APART = 2
/**
 * With pump flow alone only the pressure tells metering from holding. Of 84 such edges on 16 random machines at 10 and
 * 50 Hz and 2 % noise, means that lie more than eight standard errors of the noise apart are told in 37 of 44, from five to
 * eight in 5 of 24, nearer in none of 16, which nothing in the log can tell: those become one phase.
 */
const HIDES_PHASES = (sensors: SensorCase, name: string) => sensors === 'b' && name === 'noise 2 %'

const DURATION_S: Readonly<Record<number, number>> = {
  1: 1200,
  2: 900,
  5: 600,
  10: 600,
  50: 360,
  200: 240,
  1000: 150,
}
const RATES_HZ = Object.keys(DURATION_S).map(Number)

/** Channels that may be slow; the pressure is not, and tells the boundaries. */
const SLOW: readonly Signal[] = ['currentA', 'powerW', 'systemFlowM3S', 'pumpFlowM3S', 'reliefFlowM3S']
const each = (change: (sensor: Sensor) => Partial<Sensor>) => (spec: MachineSpec) => ({
  ...spec,
  sensors: spec.sensors.map((sensor) => ({ ...sensor, ...change(sensor) })),
})

interface Disturbance {
  readonly spec?: (spec: MachineSpec, visit: Visit) => MachineSpec
  readonly visit?: Partial<Visit>
}
const DISTURBANCES: Readonly<Record<string, Disturbance>> = {
  none: {},
  'noise 0.5 %': { spec: each(() => ({ noisePercent: 0.5 })) },
  'noise 2 %': { spec: each(() => ({ noisePercent: 2 })) },
  'drift 1 %': { spec: each(({ signal }) => ({ driftPercent: signal === 'currentA' ? -1 : 1 })) },
  spikes: { visit: { spikeShare: 0.002, dropShare: 0.002, lostShare: 0.002 } },
  'stuck current': {
    spec: (spec, { durationS }) =>
      each(({ signal }) =>
        signal === 'currentA' || signal === 'powerW'
          ? { stuck: { startS: 0.35 * durationS, endS: 0.65 * durationS } }
          : {},
      )(spec),
  },
  'slow current': {
    spec: each(({ signal }) => (signal === 'currentA' || signal === 'powerW' ? { lagS: 1.5 } : {})),
  },
  'slow flow': {
    spec: each(({ signal }) => (SLOW.includes(signal) && signal.endsWith('M3S') ? { lagS: 1.5 } : {})),
  },
}

/** What is simulated at 200 Hz and 1 kHz too; there it takes longest. */
const QUICKLY: ReadonlySet<string> = new Set(['none', 'noise 2 %', 'spikes'])

interface Run {
  readonly name: string
  readonly sensors: SensorCase
  readonly rateHz: number
  readonly classes: number
  readonly boundaryS: number
  readonly phases: number
  readonly truePhases: number
  readonly cycles: number
  readonly trueCycles: number
}
const runs: Run[] = []

async function run(sensors: SensorCase, seed: number, rateHz: number, name: string): Promise<Run> {
  const { spec: disturb, visit: more } = DISTURBANCES[name]
  const visit: Visit = { seed, durationS: DURATION_S[rateHz], rateHz, fineHz: Math.max(100, rateHz), ...more }
  const spec = disturb ? disturb(randomMachine(seed, sensors), visit) : randomMachine(seed, sensors)
  const { recording, truth } = simulate(spec, visit)
  const machine = machineFile(spec)
  async function* bytes() {
    yield new TextEncoder().encode(writeCsv(recording, 'elapsed-seconds', '2026-08-17T06:00:00'))
  }
  const { trace } = await readLog(bytes(), { fileName: 'phases.csv', machine, timeZone: 'UTC' })
  const { phases } = segment(readSensors(trace, highestPressurePa(machine)), trace, machineModel(machine))
  return {
    name,
    sensors,
    rateHz,
    classes: classesRight({ phases: [...phases] }, truth),
    boundaryS: boundaryErrorS(phases, truth.phases),
    phases: phases.length,
    truePhases: truth.phases.length,
    cycles: findCycles(phases).length,
    trueCycles: trueCycles(truth.phases),
  }
}

const SEEDS: Readonly<Record<SensorCase, readonly number[]>> = { a: [104], b: [202], c: [303] }
const asked = Object.entries(SEEDS).flatMap(([sensors, seeds]) =>
  seeds.flatMap((seed) =>
    Object.keys(DISTURBANCES).map((name) => ({ sensors: sensors as SensorCase, seed, name })),
  ),
)

describe.each(asked)('machine $seed, sensors ($sensors), $name', ({ sensors, seed, name }) => {
  it.each(RATES_HZ.filter((rateHz) => rateHz <= 50 || QUICKLY.has(name)))('at %f Hz', async (rateHz) => {
    const found = await run(sensors, seed, rateHz, name)
    runs.push(found)
    if (rateHz >= 5) expect(found.classes).toBeGreaterThanOrEqual(CLASSES_RIGHT)
    expect(found.boundaryS).toBeLessThanOrEqual(Math.max(BOUNDARY_S, 1 / rateHz) + 1e-9)
    if (HIDES_PHASES(sensors, name)) return
    const apart = Math.abs(found.phases - found.truePhases)
    expect(apart).toBeLessThanOrEqual(Math.max(PHASES_APART, PHASES_SHARE * found.truePhases))
    if (rateHz >= 5) expect(Math.abs(found.cycles - found.trueCycles)).toBeLessThanOrEqual(1)
  })
})

afterAll(() => {
  if (process.env.TRUTH_TABLE !== '1') return
  const worst = (of: readonly number[]) => Math.max(...of)
  console.log(
    runs
      .map((one) =>
        [
          one.name.padEnd(14),
          one.sensors,
          `${one.rateHz} Hz`.padStart(8),
          `classes ${(100 * one.classes).toFixed(2)} %`.padStart(17),
          `boundary ${(1000 * one.boundaryS).toFixed(0)} ms`.padStart(17),
          `phases ${one.phases}/${one.truePhases}`.padStart(15),
          `cycles ${one.cycles}/${one.trueCycles}`.padStart(14),
        ].join(' '),
      )
      .join('\n'),
  )
  for (const name of Object.keys(DISTURBANCES)) {
    const of = runs.filter((one) => one.name === name && one.rateHz >= 5)
    console.log(
      `${name.padEnd(14)} from 5 Hz: classes at least ${(100 * -worst(of.map((one) => -one.classes))).toFixed(2)} %, ` +
        `boundary at most ${(1000 * worst(of.map((one) => one.boundaryS))).toFixed(0)} ms, ` +
        `phases off by at most ${(100 * worst(of.map((one) => Math.abs(one.phases / one.truePhases - 1)))).toFixed(0)} %`,
    )
  }
})
