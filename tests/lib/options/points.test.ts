import { afterAll, describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import type { MachineSpec } from '@/app/_plant/spec'
import type { OptionId } from '@/lib/contract/result'
import { readLog } from '@/lib/import/read-log'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { CATALOGUE } from '@/lib/options/catalogue'
import type { SupplyChange } from '@/lib/options/change'
import { bestSets } from '@/lib/options/combine'
import { contextOf } from '@/lib/options/context'
import { type Replayed, replayAll } from '@/lib/options/replay'
import { findCycles } from '@/lib/phases/cycles'
import { IDLE, MOVE, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { repeat } from '../../laws/hand-trace'
import { ledgerOf, STROKE, siteWith } from './hand-options'

/**
 * What looks at one step at a time is replayed on operating points, what needs the order on points in their order.
 * Both are held against the replay of every step of the log, one after the other.
 */
const NEAR_SHARE = 1e-4
/** Spreads rest on fewer, wider points. */
const NEAR_REACH = 2e-3

/** The same change where nothing is known of its parts: carried out on every step in the log's order. */
const onSteps =
  (change: SupplyChange): SupplyChange =>
  (supply, model) =>
    change(supply, model)

type Wear = (spec: MachineSpec) => MachineSpec
const leakingPump: Wear = (spec) => ({ ...spec, pump: { ...spec.pump, leakM3S: 2 * spec.pump.leakM3S } })
const earlyRelief: Wear = (spec) => ({ ...spec, relief: { ...spec.relief, crackRatio: 0.6 } })
const sound: Wear = (spec) => spec

async function simulated(seed: number, sensors: 'a' | 'c', wear: Wear): Promise<Ledger> {
  const drawn = randomMachine(seed, sensors)
  const spec = wear({
    ...drawn,
    unloading: { kind: 'none', pressureBar: 5 },
    duty: { ...drawn.duty, idleKind: 'idle-loaded', idleS: [25, 95] },
  })
  const visit = { seed: seed + 7, durationS: 1500, rateHz: 10, fineHz: 50 }
  const csv = writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-08-17T06:00:00')
  async function* bytes() {
    yield new TextEncoder().encode(csv)
  }
  const machine = machineFile(spec)
  const log = await readLog(bytes(), { fileName: 'points.csv', machine, timeZone: 'UTC' })
  return accountFor(log.trace, machine)
}

/** Idles of 60 and 300 s: after the shorter one there is too little rest. */
const longIdles = repeat(
  [
    { ...MOVE, seconds: 600 },
    { ...IDLE, seconds: 60 },
    { ...MOVE, seconds: 600 },
    { ...IDLE, seconds: 300 },
  ],
  3,
)
const vented = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const
const MACHINES: readonly (readonly [string, () => Ledger | Promise<Ledger>])[] = [
  ['a machine by hand', () => ledgerOf()],
  ['one that vents', () => ledgerOf(repeat([UNLOADED, ...STROKE], 8), vented)],
  ['one with idles long enough to stop', () => ledgerOf(longIdles, HAND_MACHINE, undefined, 1)],
  ['a simulated one, case (c)', () => simulated(551, 'c', sound)],
  ['another', () => simulated(620, 'c', sound)],
  ['one with power alone, case (a)', () => simulated(501, 'a', sound)],
  ['one whose pump leaks', () => simulated(621, 'c', leakingPump)],
  ['one whose relief cracks early', () => simulated(622, 'c', earlyRelief)],
]

const covered = new Set<OptionId>()

describe.each(MACHINES)('%s', (_name, make) => {
  it('saves on operating points what it saves step by step, alone and in sets', async () => {
    const ledger = await make()
    const context = contextOf(ledger, siteWith())
    const cycles = findCycles(ledger.segmentation.phases)
    const feasible = CATALOGUE.flatMap(({ id, plan }) => {
      const { change } = plan(context)
      return change ? [{ id, change }] : []
    })
    const { sets } = bestSets(feasible, context)
    const all = [
      ...feasible.map(({ id, change }) => ({ name: id, change })),
      ...sets.map(({ options, change }) => ({ name: options.join(' and '), change })),
    ]
    expect(all.every(({ change }) => change.parts)).toBe(true)
    const onPoints = replayAll(ledger, all, cycles)
    const stepByStep = replayAll(
      ledger,
      all.map(({ change }) => ({ change: onSteps(change) })),
      cycles,
    )
    const far = (of: (one: Replayed) => number, near: number) =>
      all.flatMap(({ name }, k) => {
        const [a, b] = [of(onPoints[k]), of(stepByStep[k])]
        return Math.abs(a - b) <= near ? [] : [`${name}: ${a} on points, ${b} step by step`]
      })
    expect(feasible.length).toBeGreaterThan(1)
    expect(far(({ savedShare }) => savedShare, NEAR_SHARE)).toEqual([])
    expect(far(({ reach }) => reach.below, NEAR_REACH)).toEqual([])
    expect(far(({ reach }) => reach.above, NEAR_REACH)).toEqual([])
    expect(far(({ samplingShareSd }) => samplingShareSd ?? 0, NEAR_REACH)).toEqual([])
    for (const { id } of feasible) covered.add(id)
  })
})

afterAll(() => {
  expect(CATALOGUE.map(({ id }) => id).filter((id) => !covered.has(id))).toEqual([])
})
