import { describe, expect, it } from 'vitest'
import type { GivenLevels } from '@/lib/contract/levels'
import { type Machine, machineSchema } from '@/lib/contract/machine'
import { levelProblems } from '@/lib/ledger/level-problems'
import { machineModel } from '@/lib/machine/machine-model'
import { segment } from '@/lib/phases/segment'
import { readSensors } from '@/lib/samples/sensors'
import { IDLE, METER, MOVE, OFF, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece } from '../../laws/hand-trace'

/** The rule is the project's own (shared domain rules, section 5); the kinds are worked out by hand. */
const VENTED: Machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } }
const DUTY: readonly Piece[] = [OFF, IDLE, MOVE, METER, MOVE, UNLOADED, MOVE]

function found(
  pieces: readonly Piece[],
  fitted: readonly MeterName[],
  machine: Machine,
  levels?: GivenLevels,
) {
  const trace = handTrace(pieces, { fitted })
  const said = levels ? { ...machine, levels } : machine
  const { phases, reportedLevels, ...rest } = segment(readSensors(trace), trace, machineModel(said))
  return { kinds: phases.map(({ kind }) => kind), reported: reportedLevels, levels: rest.levels }
}

const kindsOf = (...of: Parameters<typeof found>) => found(...of).kinds

describe('levels found in the log', () => {
  it('are those of the hand-worked duty, and what does not apply is not shown', () => {
    const { reported } = found(DUTY, ['systemFlow', 'current'], VENTED)
    // Dead-headed at 160 bar; half the no-load current of 22 A.
    expect(reported.deadHeadBar.found).toBeCloseTo(160, 1)
    expect(reported.deadHeadBar).toMatchObject({ foundFrom: 'log', given: null, decides: true })
    expect(reported.runningCurrentA).toEqual({ found: 11, foundFrom: 'machine', given: null, decides: true })
    expect(reported.runningPowerKW.decides).toBe(false)
    expect(reported.standbyBelowBar).toMatchObject({ found: null, decides: false })
    expect(reported.deadHeadFromBar.decides).toBe(false)
    // No stretch has a share of flow near it: the usual one stands (common practice, no source).
    expect(reported.noFlowShare).toEqual({ found: 0.07, foundFrom: 'usual', given: null, decides: true })
    // Nothing flows into the system at 5 bar: half of 160 bar parts unloaded from loaded.
    expect(reported.unloadedBelowBar.found).toBeCloseTo(80, 1)
  })

  it('without a flow the pressure alone decides, and no share is told', () => {
    const { reported } = found(DUTY, ['power'], VENTED)
    expect(reported.deadHeadFromBar.decides).toBe(true)
    expect(reported.noFlowShare).toEqual({ found: null, foundFrom: 'usual', given: null, decides: false })
    const { found: below } = reported.unloadedBelowBar
    expect(below).toBeGreaterThan(5)
    expect(below).toBeLessThan(80)
    expect(reported.runningPowerKW).toMatchObject({ decides: true, given: null })
  })
})

describe('levels given in the machine file', () => {
  it('an empty block changes nothing', () => {
    for (const fitted of [['systemFlow', 'current'], ['power'], []] as const) {
      expect(found(DUTY, fitted, VENTED, {})).toEqual(found(DUTY, fitted, VENTED))
    }
  })

  const STILL: Piece = { ...UNLOADED, bar: 20 }
  it.each([
    ['flow told', ['systemFlow', 'power']],
    ['pressure alone', ['power']],
  ] as const)('an unloaded pump lies below the level given: %s', (_name, fitted) => {
    const pieces = [MOVE, STILL, MOVE]
    const kind = (levels: GivenLevels) => kindsOf(pieces, fitted, VENTED, levels)[1]
    expect(kind({ unloadedBelowBar: 25 })).toBe('idle-unloaded')
    expect(kindsOf(pieces, fitted, VENTED, { unloadedBelowBar: 15 })).not.toContain('idle-unloaded')
  })

  it('where flow is told, none moves below the share given', () => {
    // A tenth of the pump's flow goes on at 158 bar.
    const pieces = [MOVE, { ...METER, bar: 158, systemLpm: 8.5 }, MOVE]
    const middle = (levels: GivenLevels) => kindsOf(pieces, ['systemFlow', 'power'], HAND_MACHINE, levels)[1]
    expect(middle({ noFlowShare: 0.05 })).toBe('work-metering')
    expect(middle({ noFlowShare: 0.2 })).toMatch(/idle-loaded|work-holding/)
  })

  it('work below the opening pressure given is moving, above it metering', () => {
    // 155.2 bar and half of the pump's flow.
    const middle = (levels: GivenLevels) =>
      kindsOf([IDLE, METER, IDLE], ['systemFlow', 'power'], HAND_MACHINE, levels)[1]
    expect(middle({})).toBe('work-metering')
    expect(middle({ reliefOpensBar: 150 })).toBe('work-metering')
    expect(middle({ reliefOpensBar: 157 })).toBe('work-moving')
  })

  it('a motor is stopped below the current or power given', () => {
    // Unloaded the motor takes little more than without load: 22 A, and some 3.5 kW.
    const kinds = (fitted: readonly MeterName[], levels: GivenLevels) =>
      kindsOf([MOVE, UNLOADED, MOVE], fitted, VENTED, levels)
    expect(kinds(['systemFlow', 'current'], {})[1]).toBe('idle-unloaded')
    expect(kinds(['systemFlow', 'current'], { runningCurrentA: 30 })).toContain('stopped')
    expect(kinds(['systemFlow', 'power'], { runningPowerKW: 8 })).toContain('stopped')
    // A level of the current is none where power is logged.
    expect(kinds(['systemFlow', 'power'], { runningCurrentA: 30 })).not.toContain('stopped')
  })

  it('those that hang on a given one follow it, and the result keeps both', () => {
    const { reported, levels } = found(DUTY, ['systemFlow', 'power'], HAND_MACHINE, { deadHeadBar: 170 })
    expect(levels.deadHeadPa).toBeCloseTo(170e5, 3)
    expect(levels.reliefOpenPa).toBeCloseTo(0.96 * 170e5, 3)
    expect(reported.deadHeadBar).toMatchObject({ given: 170, foundFrom: 'log' })
    expect(reported.deadHeadBar.found).toBeCloseTo(160, 1)
  })

  it('one above the dead-head level found is named as a problem', () => {
    const { reported } = found(DUTY, ['power'], HAND_MACHINE, { reliefOpensBar: 175 })
    const problems = levelProblems(reported)
    expect(problems.map(({ code, values }) => [code, values.level, values.given])).toEqual([
      ['level-above-dead-head', 'reliefOpensBar', 175],
    ])
    expect(levelProblems(found(DUTY, ['power'], HAND_MACHINE, { reliefOpensBar: 140 }).reported)).toEqual([])
  })
})

describe('nonsense is refused where the machine file is read', () => {
  const issuesOf = (levels: GivenLevels) => {
    const parsed = machineSchema.safeParse({ ...HAND_MACHINE, levels })
    return parsed.success ? [] : parsed.error.issues.map(({ path, message }) => [path.join('.'), message])
  }
  it.each([
    [{ unloadedBelowBar: 170, deadHeadBar: 160 }, 'levels.unloadedBelowBar', 'must be below deadHeadBar'],
    [{ unloadedBelowBar: 170 }, 'levels.unloadedBelowBar', 'must be below settingBar'],
    [{ reliefOpensBar: 165, deadHeadBar: 160 }, 'levels.reliefOpensBar', 'must be below deadHeadBar'],
    [{ deadHeadFromBar: 165, deadHeadBar: 160 }, 'levels.deadHeadFromBar', 'must not exceed deadHeadBar'],
    [{ noFlowShare: 0.9, fullFlowShare: 0.8 }, 'levels.noFlowShare', 'must be below fullFlowShare'],
    [{ runningCurrentA: -1 }, 'levels.runningCurrentA', expect.stringContaining('>0')],
    [{ fullFlowShare: 1.2 }, 'levels.fullFlowShare', expect.stringContaining('<=1')],
  ])('%j', (levels, path, message) => {
    expect(issuesOf(levels)).toContainEqual([path, message])
  })
  it('and what makes sense is not', () => {
    expect(
      issuesOf({ unloadedBelowBar: 12, reliefOpensBar: 120, deadHeadFromBar: 160, deadHeadBar: 160 }),
    ).toEqual([])
  })
})
