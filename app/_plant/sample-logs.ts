import type { Machine } from '@/lib/contract/machine'
import { fleet } from './fleet'
import { type Habit, type WallClock, writeCsv } from './habits'
import { machineFile } from './machine-file'
import { type Simulated, savedShare, simulate } from './simulate'
import type { Change, Visit } from './spec'

export interface SampleLog {
  readonly name: string
  readonly about: string
  readonly csv: string
  readonly machine: Machine
  readonly truth: Simulated['truth'] & {
    readonly savings: Readonly<Record<string, Readonly<Record<string, string | number>>>>
  }
}

interface Plan {
  readonly machineId: string
  readonly name: string
  readonly about: string
  readonly habit: Habit
  readonly startedAt: WallClock
  readonly weekend?: boolean
  readonly visit: Visit
  readonly changes: readonly Change[]
}

const VENT: Change = { id: 'vent-relief-at-idle', ventBar: 5, delayS: 0.5 }

const PLANS: readonly Plan[] = [
  {
    machineId: 'baler-2',
    name: 'baler-line-flow',
    about:
      'Pump pressure, line flow and current; semicolons, decimal commas, a preamble, some lost cells and one gap. Idles over a closed relief.',
    habit: 'semicolon-comma',
    startedAt: '2026-09-15T06:10:00',
    visit: {
      seed: 11,
      durationS: 1800,
      rateHz: 2,
      gaps: [{ startS: 1000, endS: 1090 }],
      lostShare: 0.0008,
    },
    changes: [VENT, { id: 'pressure-compensated-pump', compensatorBar: 150 }],
  },
  {
    machineId: 'shear-1',
    name: 'shear-pump-flow',
    about:
      'Pump pressure, pump-outlet flow and current: the split between relief and system has to be inferred. ISO times, commas.',
    habit: 'comma-iso',
    startedAt: '2026-09-16T09:00:00',
    visit: { seed: 12, durationS: 1200, rateHz: 4 },
    changes: [
      { id: 'stop-motor-at-idle', waitS: 46 },
      { id: 'pressure-compensated-pump', compensatorBar: 170 },
    ],
  },
  {
    machineId: 'press-4',
    name: 'press-all-sensors',
    about:
      'Pump and cylinder pressure, pump and relief flow, real power, a cycle signal: the whole account can be told apart. Date and time in two columns.',
    habit: 'split-columns',
    startedAt: '2026-09-17T07:30:00',
    visit: { seed: 13, durationS: 900, rateHz: 4 },
    changes: [
      VENT,
      { id: 'second-relief-setting', lowSettingBar: 145, marginBar: 10 },
      { id: 'pressure-compensated-pump', compensatorBar: 190 },
    ],
  },
  {
    machineId: 'broach-1',
    name: 'broach-early-relief',
    about:
      'Pump and ram pressure, pump and relief flow, real power. The pilot-operated relief is worn and cracks at two thirds of its setting.',
    habit: 'comma-iso',
    startedAt: '2026-09-18T10:15:00',
    visit: { seed: 14, durationS: 900, rateHz: 4 },
    changes: [VENT, { id: 'pressure-compensated-pump', compensatorBar: 130 }],
  },
  {
    machineId: 'stand-2',
    name: 'test-stand-weekend',
    about:
      'An oversized pump over a weekend: nobody works, the relief takes everything. Tabs, psi and US gallons, twelve-hour clock.',
    habit: 'tab-us',
    startedAt: '2026-09-19T11:30:00',
    weekend: true,
    visit: { seed: 15, durationS: 3600, rateHz: 1 },
    changes: [VENT, { id: 'stop-motor-at-idle', waitS: 300 }],
  },
  {
    machineId: 'fixtures-5',
    name: 'fixtures-vented',
    about:
      'Already good: the relief is vented while the spindle cuts, clamps are locked. Elapsed seconds instead of a date.',
    habit: 'elapsed-seconds',
    startedAt: '2026-09-21T06:00:00',
    visit: { seed: 16, durationS: 1500, rateHz: 4 },
    changes: [],
  },
]

/** The sample logs with their machines and truth, always the same ones. */
export function sampleLogs(): SampleLog[] {
  const machines = fleet()
  return PLANS.map((plan) => {
    const machine = machines.find(({ id }) => id === plan.machineId)
    if (!machine) throw new Error(`no machine ${plan.machineId}`)
    const duty = plan.weekend ? { ...machine.spec.duty, workless: true } : machine.spec.duty
    const spec = { ...machine.spec, duty }
    const { recording, truth } = simulate(spec, plan.visit)
    const savings = Object.fromEntries(
      plan.changes.map((change) => {
        const { id, ...settings } = change
        return [id, { ...settings, savedShare: savedShare(spec, plan.visit, change) }]
      }),
    )
    return {
      name: plan.name,
      about: plan.about,
      csv: writeCsv(recording, plan.habit, plan.startedAt),
      machine: machineFile(spec),
      truth: { ...truth, savings },
    }
  })
}
