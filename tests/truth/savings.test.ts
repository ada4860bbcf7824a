import { existsSync, readFileSync } from 'node:fs'
import { afterAll, describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine } from '@/app/_plant/random-machine'
import { savedShare, simulate } from '@/app/_plant/simulate'
import type { Change, MachineSpec, Visit } from '@/app/_plant/spec'
import { machineSchema } from '@/lib/contract/machine'
import type { Analysis } from '@/lib/contract/result'
import { analyseCsv, type Truth } from './against-truth'

/**
 * What a change saves, replayed by the analysis, against the same demand simulated again. The settings
 * are those the analysis reports. TRUTH_TABLE=1 prints every option.
 */
const NEAR_VALVE_OR_MOTOR = 0.03
const NEAR_PUMP_OR_DRIVE = 0.05
const PUMPS_AND_DRIVES: ReadonlySet<Change['id']> = new Set([
  'pressure-compensated-pump',
  'load-sensing-pump',
  'variable-speed-drive',
  'smaller-pump',
  'high-low-pumps',
  'accumulator-charging',
  'restore-pump',
])
const near = (id: Change['id']) => (PUMPS_AND_DRIVES.has(id) ? NEAR_PUMP_OR_DRIVE : NEAR_VALVE_OR_MOTOR)
const printed: string[] = []
const number = (value: unknown): number => (typeof value === 'number' ? value : Number.NaN)

function changeOf(option: Analysis['options'][number], spec: MachineSpec): Change | null {
  const { settings } = option
  const pumpShare = number(settings.pumpCm3) / spec.plates.pump.displacementCm3
  switch (option.id) {
    case 'vent-relief-at-idle':
      return { id: option.id, ventBar: number(settings.ventBar), delayS: number(settings.delayS) }
    case 'second-relief-setting':
      return {
        id: option.id,
        lowSettingBar: number(settings.lowSettingBar),
        marginBar: number(settings.marginBar),
      }
    case 'lower-relief-setting':
      return { id: option.id, settingBar: number(settings.settingBar) }
    case 'stop-motor-at-idle':
      return { id: option.id, waitS: number(settings.waitS) }
    case 'pressure-compensated-pump':
      return { id: option.id, compensatorBar: number(settings.compensatorBar) }
    case 'load-sensing-pump':
      return { id: option.id, marginBar: number(settings.marginBar) }
    case 'variable-speed-drive':
      return { id: option.id, minimumSpeedShare: number(settings.minimumSpeedShare) }
    case 'smaller-pump':
      return { id: option.id, pumpShare }
    case 'high-low-pumps': {
      const smallShare = number(settings.smallPumpCm3) / spec.plates.pump.displacementCm3
      return { id: option.id, smallShare, unloadBar: number(settings.unloadBar) }
    }
    case 'accumulator-charging': {
      const { lowBar, highBar, gasLitres } = settings
      return {
        id: option.id,
        pumpShare,
        lowBar: number(lowBar),
        highBar: number(highBar),
        gasLitres: number(gasLitres),
      }
    }
    case 'restore-pump':
      return { id: option.id }
    case 'replace-relief-valve':
      return { id: option.id, crackRatio: spec.plates.relief.kind === 'direct-acting' ? 0.7 : 0.9 }
    case 'efficient-motor':
      return { id: option.id, ratedEfficiency: number(settings.ratedEfficiency) }
    default:
      return null
  }
}

function loaded(seed: number, sensors: 'a' | 'c'): MachineSpec {
  const spec = randomMachine(seed, sensors)
  return {
    ...spec,
    unloading: { kind: 'none', pressureBar: 5 },
    duty: { ...spec.duty, idleKind: 'idle-loaded', idleS: [25, 45] },
  }
}

const drawn = (['a', 'c'] as const).flatMap((sensors, group) =>
  Array.from({ length: 5 }, (_, index) => ({ sensors, seed: 500 + group * 50 + index })),
)

describe.each(drawn)('machine $seed that idles over its relief, case ($sensors)', ({ sensors, seed }) => {
  it('options save what the machine simulated again saves', async () => {
    const spec = loaded(seed, sensors)
    const visit: Visit = { seed: seed + 7, durationS: 900, rateHz: 10, fineHz: 50 }
    const csv = writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-08-17T06:00:00')
    const analysis = await analyseCsv(csv, 'savings.csv', machineFile(spec))
    const wrong: string[] = []
    let judged = 0
    for (const option of analysis.options) {
      const change = changeOf(option, spec)
      if (!change || !option.feasible || !option.savedShare) continue
      judged += 1
      const truth = savedShare(spec, visit, change)
      const { value, low, high } = option.savedShare
      const inside = truth >= low && truth <= high
      const line = `${spec.name} ${JSON.stringify(change)}: got ${value.toFixed(4)} (${low.toFixed(4)} to ${high.toFixed(4)}), truth ${truth.toFixed(4)} ${inside ? 'inside' : 'OUTSIDE'}`
      printed.push(line)
      if (Math.abs(value - truth) > near(change.id)) wrong.push(line)
    }
    expect(judged).toBeGreaterThan(0)
    expect(wrong).toEqual([])
  })
})

/** Machines of case (c) with a part that is worn, and what mending it saves: an option of its own. */
const FAULTY: readonly (readonly [string, Change['id'], (spec: MachineSpec) => MachineSpec])[] = [
  [
    'a pump that leaks twice as much as its plate says',
    'restore-pump',
    (spec) => ({ ...spec, pump: { ...spec.pump, leakM3S: 2 * spec.pump.leakM3S } }),
  ],
  [
    'a relief that leaks a tenth of its rated flow',
    'replace-relief-valve',
    (spec) => ({
      ...spec,
      relief: { ...spec.relief, seatLeak: (0.1 * spec.relief.ratedM3S) / spec.relief.settingPa },
    }),
  ],
  [
    'a relief that opens at 60 % of its setting',
    'replace-relief-valve',
    (spec) => ({ ...spec, relief: { ...spec.relief, crackRatio: 0.6 } }),
  ],
]

describe.each(FAULTY)('%s', (_fault, id, wear) => {
  it.each([620, 621, 622])('machine %s: mending it saves what is found', async (seed) => {
    const spec = wear(loaded(seed, 'c'))
    const visit: Visit = { seed: seed + 7, durationS: 900, rateHz: 10, fineHz: 50 }
    const csv = writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-08-17T06:00:00')
    const analysis = await analyseCsv(csv, 'worn.csv', machineFile(spec))
    const option = analysis.options.find((one) => one.id === id)
    expect(option?.reasons.filter(({ code }) => code !== 'costs-energy')).toEqual([])
    const change = option && changeOf(option, spec)
    if (!change || !option.savedShare) throw new Error(`${id} is not feasible`)
    const truth = savedShare(spec, visit, change)
    const { value, low, high } = option.savedShare
    printed.push(
      `${spec.name} worn ${JSON.stringify(change)}: got ${value.toFixed(4)} (${low.toFixed(4)} to ${high.toFixed(4)}), truth ${truth.toFixed(4)}`,
    )
    expect(Math.abs(value - truth)).toBeLessThan(near(id))
  })
})

describe('known truth: stamping-all-sensors', () => {
  const file = (end: string) =>
    new URL(`../../../shared/data/known-truth/stamping-all-sensors.${end}`, import.meta.url)
  const here = existsSync(file('csv'))

  it.runIf(here)(here ? 'venting at idle saves what was simulated' : 'skipped: data not here', async () => {
    const machine = machineSchema.parse(JSON.parse(readFileSync(file('machine.json'), 'utf8')))
    const truth = JSON.parse(readFileSync(file('truth.json'), 'utf8')) as Truth
    const analysis = await analyseCsv(readFileSync(file('csv'), 'utf8'), 'stamping.csv', machine)
    const vent = analysis.options.find(({ id }) => id === 'vent-relief-at-idle')?.savedShare
    const known = truth.savings?.['vent-relief-at-idle'].savedShare ?? Number.NaN
    expect(Math.abs((vent?.value ?? Number.NaN) - known)).toBeLessThan(0.02)
    expect(vent?.low).toBeLessThan(known)
    expect(vent?.high).toBeGreaterThan(known)
  })
})

afterAll(() => {
  if (process.env.TRUTH_TABLE === '1') console.log(printed.join('\n'))
})
