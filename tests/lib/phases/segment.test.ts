import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import type { Phase, PhaseKind } from '@/lib/contract/result'
import { machineModel } from '@/lib/machine/machine-model'
import { segment } from '@/lib/phases/segment'
import { readSensors } from '@/lib/samples/sensors'
import type { FullTrace } from '@/lib/samples/trace'
import { HOLD, IDLE, METER, MOVE, OFF, START, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handReliefBar } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

/** The rules are the project's own (shared domain rules, section 5); what should be found is written down by hand. */
const LINE: readonly MeterName[] = ['systemFlow', 'current']
const ALL: readonly MeterName[] = ['loadPressure', 'pumpFlow', 'systemFlow', 'returnFlow', 'power']
const VENTED: Machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } }

const segmented = (trace: FullTrace, machine = HAND_MACHINE) =>
  segment(readSensors(trace), trace, machineModel(machine))
const phasesOf = (trace: FullTrace, machine = HAND_MACHINE) => segmented(trace, machine).phases
const kindsOf = (phases: readonly Phase[]) => phases.map((phase) => phase.kind)
const boundaries = (phases: readonly Phase[]) => phases.slice(1).map((phase) => phase.startS)

function mustBe(
  phases: readonly Phase[],
  pieces: readonly Piece[],
  kinds: readonly PhaseKind[],
  withinS: number,
) {
  expect(kindsOf(phases)).toEqual(kinds)
  let atS = 0
  pieces.forEach((piece, k) => {
    expect(Math.abs(phases[k].startS - atS), `start of phase ${k}`).toBeLessThanOrEqual(withinS + 1e-9)
    atS += piece.seconds
    expect(Math.abs(phases[k].endS - atS), `end of phase ${k}`).toBeLessThanOrEqual(withinS + 1e-9)
  })
}

describe('a stroke whose load rises all the time', () => {
  const LEVELS = [40, 48, 56, 64, 72, 80, 88, 96, 104, 112]
  const RAMP_S = 3
  /** Between two levels of ten the pressure rises in a straight line; flow and current are those of a stroke. */
  const ramp = (rateHz: number) => {
    const steps = RAMP_S * rateHz
    return Array.from({ length: steps }, (_, k) => ({
      ...MOVE,
      bar: LEVELS[0] + ((LEVELS[LEVELS.length - 1] - LEVELS[0]) * k) / steps,
      seconds: 1 / rateHz,
    }))
  }
  it.each([
    ['before a hold', LINE, HOLD, 'work-holding', 20],
    ['before an unloaded idle', LINE, UNLOADED, 'idle-unloaded', 25],
    ['before an unloaded idle, two meters', ALL, UNLOADED, 'idle-unloaded', 50],
  ] as const)('is a phase of its own: %s', (_name, fitted, next, kind, rateHz) => {
    const pieces = repeat([UNLOADED, ...ramp(rateHz), next], 6)
    const phases = phasesOf(handTrace([...pieces, OFF], { fitted, rateHz, noise: 0.0005 }), VENTED)
    const strokes = phases.filter((phase) => phase.kind === 'work-moving')
    expect(strokes).toHaveLength(6)
    for (const { startS, endS } of strokes) expect(Math.abs(endS - startS - RAMP_S)).toBeLessThan(0.15)
    expect(phases.some((phase) => phase.kind === kind)).toBe(true)
  })
})

describe('a valve that waits before it vents', () => {
  /** The valve to the actuator shuts: pressure rises to the relief's, then the pump is vented. */
  const wait = (rateHz: number, waitS: number): Piece[] => {
    const samples = Math.round(waitS * rateHz)
    const shutting = Array.from({ length: samples }, (_, k): Piece => {
      const atS = (k + 1) / rateHz
      const systemLpm = handFlowLpm(80) * Math.exp(-atS / 0.1)
      const settled = handReliefBar(handFlowLpm(155) - systemLpm)
      const bar = settled - (settled - MOVE.bar) * Math.exp(-atS / 0.05)
      return { seconds: 1 / rateHz, bar, loadBar: 0, systemLpm }
    })
    const venting = [90, 40, 15].map((bar): Piece => ({ ...UNLOADED, bar, seconds: 0.05 }))
    return [...shutting, ...(rateHz >= 20 ? venting : [])]
  }
  it.each([
    [20, 0.4],
    [20, 0.5],
    [10, 0.5],
    [10, 0.8],
    [5, 0.8],
  ])('goes over the relief meanwhile: %i Hz, %f s', (rateHz, waitS) => {
    const pieces = repeat([UNLOADED, MOVE, ...wait(rateHz, waitS)], 8)
    const trace = handTrace([...pieces, UNLOADED], { fitted: ALL, rateHz, noise: 0.0005 })
    const waits = phasesOf(trace, VENTED).filter(({ kind }) => kind === 'idle-loaded')
    expect(waits).toHaveLength(8)
    for (const { startS, endS } of waits) expect(Math.abs(endS - startS - waitS)).toBeLessThanOrEqual(0.2)
  })

  it('a blow of the pressure while valves change over is no phase', () => {
    const blow = [100, 158].map((bar): Piece => ({ ...MOVE, bar, systemLpm: 20, seconds: 0.05 }))
    const trace = handTrace([...repeat([UNLOADED, MOVE, ...blow, { ...MOVE, bar: 60 }], 8), UNLOADED], {
      fitted: ALL,
      rateHz: 20,
      noise: 0.0005,
    })
    expect(new Set(kindsOf(phasesOf(trace, VENTED)))).toEqual(new Set(['idle-unloaded', 'work-moving']))
  })
})

describe('a machine that only feeds', () => {
  it('meters at the relief in every step: what flows in transitions is not its full flow', () => {
    // 70, 45 and 22 % of the flow go on, at the relief's own pressures; on the way up a moment at 70 bar.
    const fed = (share: number, seconds: number): Piece => {
      const bar = handReliefBar((1 - share) * 85.6)
      return { ...METER, seconds, bar, systemLpm: handFlowLpm(bar) - (1 - share) * 85.6 }
    }
    const way: Piece = { ...MOVE, seconds: 0.2, bar: 70, systemLpm: 60 }
    const pieces = repeat([UNLOADED, way, fed(0.7, 8), fed(0.45, 10), fed(0.22, 11)], 8)
    const trace = handTrace([...pieces, UNLOADED], { fitted: LINE, rateHz: 10, noise: 0.0005 })
    expect(new Set(kindsOf(phasesOf(trace, VENTED)))).toEqual(new Set(['idle-unloaded', 'work-metering']))
  })
})

describe('a compensated pump', () => {
  it('moves its load at full stroke however much it leaks, until the compensator strokes it back', () => {
    const machine: Machine = { ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' } }
    const full = handFlowLpm(40)
    // At 110 bar it gives a seventh less than at 40: its leakage, for 110 bar is far below the compensator's 160.
    const light: Piece = { ...MOVE, seconds: 15, bar: 40, loadBar: 36, systemLpm: full, returnLpm: 0 }
    const heavy: Piece = { ...light, bar: 110, loadBar: 106, systemLpm: 0.86 * full }
    const still: Piece = { ...IDLE, returnLpm: 0 }
    const trace = handTrace(repeat([still, light, heavy], 6), {
      fitted: ['loadPressure', 'systemFlow', 'returnFlow', 'power'],
      rateHz: 10,
      noise: 0.0005,
    })
    expect(new Set(kindsOf(phasesOf(trace, machine)))).toEqual(new Set(['idle-loaded', 'work-moving']))
  })
})

describe('noise makes no phases', () => {
  const cases = [0.0005, 0.002, 0.005, 0.01].flatMap((noise) =>
    [1, 10, 50].flatMap((rateHz) => [1, 2].map((seed) => ({ noise, rateHz, seed }))),
  )
  it.each(cases)('$noise of full scale at $rateHz Hz, draw $seed', ({ noise, rateHz, seed }) => {
    for (const [piece, kind] of [
      [IDLE, 'idle-loaded'],
      [MOVE, 'work-moving'],
    ] as const) {
      for (const fitted of [LINE, ALL]) {
        const trace = handTrace([{ ...piece, seconds: 4000 / rateHz }], { fitted, rateHz, noise, seed })
        expect(kindsOf(phasesOf(trace))).toEqual([kind])
      }
    }
  })

  it('nor does a stopped pump with the zero noise of its clamp', () => {
    const trace = handTrace([{ ...OFF, seconds: 400 }], { fitted: LINE, noise: 0.005 })
    expect(kindsOf(phasesOf(trace))).toEqual(['stopped'])
  })

  it('a noisy duty has the phases of the quiet one', () => {
    const pieces = [...repeat([IDLE, MOVE, METER], 6), IDLE]
    const quiet = kindsOf(phasesOf(handTrace(pieces, { fitted: ALL })))
    for (const noise of [0.001, 0.004]) {
      expect(kindsOf(phasesOf(handTrace(pieces, { fitted: ALL, noise, seed: 7 })))).toEqual(quiet)
    }
  })

  it.each([
    ['line flow and current', LINE],
    ['every meter', ALL],
    ['pump flow and current', ['pumpFlow', 'current']],
    ['return flow and current', ['returnFlow', 'current']],
    ['current alone', ['current']],
  ] as const)('nor do ramps of 0.3 s between its levels: %s', (_name, fitted) => {
    const pieces = [...repeat([IDLE, MOVE, METER, { ...MOVE, seconds: 4 }], 5), IDLE]
    const trace = handTrace(pieces, { fitted, noise: 0.001 })
    for (const { values } of trace.channels) {
      const steep = Float64Array.from(values)
      const mean = (i: number) => (steep[i] + steep[i - 1] + steep[i - 2] + steep[i - 3]) / 4
      for (let i = 3; i < values.length; i++) values[i] = mean(i)
    }
    const kinds = kindsOf(phasesOf(trace))
    expect(kinds).toEqual(kindsOf(phasesOf(handTrace(pieces, { fitted }))))
    expect(kinds).toHaveLength(21)
  })

  it('a slow drift makes none either', () => {
    const trace = handTrace([{ ...IDLE, seconds: 600 }], { fitted: LINE, noise: 0.002 })
    const [pressure] = trace.channels
    for (let i = 0; i < pressure.values.length; i++) pressure.values[i] += (2e5 * i) / pressure.values.length
    expect(kindsOf(phasesOf(trace))).toEqual(['idle-loaded'])
  })
})

describe('boundaries', () => {
  const pieces = repeat([IDLE, MOVE, METER, { ...MOVE, seconds: 4 }], 3)
  const kinds: PhaseKind[] = repeat([IDLE, MOVE, METER, MOVE], 3).map((piece) =>
    piece === IDLE ? 'idle-loaded' : piece === METER ? 'work-metering' : 'work-moving',
  )
  it.each([1, 2, 5, 10, 25, 50, 100])('at %f Hz lie on the step, without noise', (rateHz) => {
    mustBe(phasesOf(handTrace(pieces, { fitted: LINE, rateHz })), pieces, kinds, 0)
  })
  it.each([1, 5, 10, 50, 100])('at %f Hz within one sample of it, with noise', (rateHz) => {
    const trace = handTrace(pieces, { fitted: LINE, rateHz, noise: 0.002, seed: 3 })
    mustBe(phasesOf(trace), pieces, kinds, 1 / rateHz)
  })
  it('lie on sample times, are contiguous, and the last ends one interval after its last sample', () => {
    const trace = handTrace(pieces, { fitted: LINE, rateHz: 3, noise: 0.002 })
    const phases = phasesOf(trace)
    const times = new Set(trace.timeS)
    expect(boundaries(phases).every((time) => times.has(time))).toBe(true)
    phases.slice(1).forEach((phase, k) => {
      expect(phase.startS).toBe(phases[k].endS)
    })
    expect(phases.at(-1)?.endS).toBeCloseTo(trace.timeS[trace.timeS.length - 1] + trace.sampleIntervalS, 9)
  })
})

describe('gaps are never bridged', () => {
  it('one state on both sides of a gap is two phases, and the gap is in neither', () => {
    const pieces = [IDLE, { ...IDLE, gapBeforeS: 30 }, MOVE]
    const phases = phasesOf(handTrace(pieces, { fitted: LINE }))
    expect(kindsOf(phases)).toEqual(['idle-loaded', 'idle-loaded', 'work-moving'])
    expect(phases[0].endS).toBeCloseTo(20, 9)
    expect(phases[1].startS).toBeCloseTo(50, 9)
  })

  it('a hold is not measured from the work before a gap', () => {
    const pieces = [IDLE, MOVE, { ...HOLD, gapBeforeS: 5 }, MOVE]
    expect(kindsOf(phasesOf(handTrace(pieces, { fitted: LINE })))).toEqual([
      'idle-loaded',
      'work-moving',
      'idle-loaded',
      'work-moving',
    ])
  })

  it('holds for any gap anywhere', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 5 }),
        fc.integer({ min: 3, max: 500 }),
        fc.constantFrom(1, 10),
        (where, gapBeforeS, rateHz) => {
          const pieces = [IDLE, MOVE, METER, MOVE, IDLE, MOVE].map((piece, k) =>
            k === where ? { ...piece, gapBeforeS } : piece,
          )
          const trace = handTrace(pieces, { fitted: LINE, rateHz, noise: 0.001 })
          for (const { startS, endS } of phasesOf(trace)) {
            for (const gap of trace.gaps) {
              expect(endS <= gap.startS + 1e-9 || startS >= gap.endS - 1e-9).toBe(true)
            }
          }
        },
      ),
      { numRuns: 30 },
    )
  })
})

describe('one-sample spikes make no phase', () => {
  it.each([5, 10, 50])(
    'at %f Hz: a spike to relief pressure while moving, a dropout while idle',
    (rateHz) => {
      const one = 1 / rateHz
      const pieces = [
        { ...IDLE, seconds: 12 },
        { ...MOVE, seconds: one, amps: 0 },
        { ...IDLE, seconds: 8 },
        { ...MOVE, seconds: 4 },
        { ...IDLE, seconds: one },
        { ...MOVE, seconds: 4 },
        IDLE,
      ]
      expect(kindsOf(phasesOf(handTrace(pieces, { fitted: LINE, rateHz, noise: 0.001 })))).toEqual([
        'idle-loaded',
        'work-moving',
        'idle-loaded',
      ])
    },
  )

  it('a reading of no current for one sample does not stop the motor', () => {
    const pieces = [IDLE, { ...IDLE, seconds: 0.1, amps: 0 }, IDLE]
    expect(kindsOf(phasesOf(handTrace(pieces, { fitted: LINE })))).toEqual(['idle-loaded'])
  })

  it('a missing cell is no change either', () => {
    const trace = handTrace([MOVE, IDLE, MOVE], { fitted: LINE, noise: 0.001 })
    for (const channel of trace.channels) for (const i of [30, 150, 151, 300]) channel.values[i] = Number.NaN
    expect(kindsOf(phasesOf(trace))).toEqual(['work-moving', 'idle-loaded', 'work-moving'])
  })
})

describe('holds and loaded idles', () => {
  const dead = (seconds: number, more: Partial<Piece> = {}): Piece => ({ ...IDLE, seconds, ...more })

  it('by length, where nothing else tells: shorter than 15 s right after work is a hold', () => {
    const pieces = [dead(20), MOVE, dead(10), MOVE, dead(16), MOVE, dead(14.8), MOVE]
    const kinds = kindsOf(phasesOf(handTrace(pieces, { fitted: LINE })))
    expect(kinds).toEqual([
      'idle-loaded',
      'work-moving',
      'work-holding',
      'work-moving',
      'idle-loaded',
      'work-moving',
      'work-holding',
      'work-moving',
    ])
  })

  it('by length: a short one that follows no work is idle', () => {
    expect(kindsOf(phasesOf(handTrace([dead(5), MOVE, dead(20)], { fitted: LINE })))[0]).toBe('idle-loaded')
  })

  it('the machine’s own longest hold counts, and others can be asked for', () => {
    const pieces = [dead(20), MOVE, dead(10), MOVE]
    const trace = handTrace(pieces, { fitted: LINE })
    expect(kindsOf(phasesOf(trace, { ...HAND_MACHINE, longestHoldS: 8 }))[2]).toBe('idle-loaded')
    const asked = segmented(trace).stepsWithLongestHold(5)
    expect(asked.map((step) => step.kind)).not.toContain('work-holding')
    expect(
      segmented(trace)
        .stepsWithLongestHold(30)
        .map((step) => step.kind),
    ).toContain('work-holding')
  })

  it('load pressure outranks length: a long hold with it, a short idle without', () => {
    const pieces = [dead(20), MOVE, dead(40, { loadBar: 140 }), MOVE, dead(4, { loadBar: 0 }), MOVE]
    const kinds = kindsOf(phasesOf(handTrace(pieces, { fitted: [...LINE, 'loadPressure'] })))
    expect(kinds[2]).toBe('work-holding')
    expect(kinds[4]).toBe('idle-loaded')
  })

  it('a cycle signal outranks the load pressure', () => {
    const pieces = [
      dead(20),
      MOVE,
      dead(40, { loadBar: 0, cycle: 1 }),
      MOVE,
      dead(4, { loadBar: 140, cycle: 0 }),
      MOVE,
    ]
    const kinds = kindsOf(phasesOf(handTrace(pieces, { fitted: [...LINE, 'loadPressure', 'cycle'] })))
    expect(kinds[2]).toBe('work-holding')
    expect(kinds[4]).toBe('idle-loaded')
  })

  it('an idle signal does the same, the other way round', () => {
    const pieces = [dead(20, { idle: 1 }), MOVE, dead(40, { idle: 0 }), MOVE, dead(4, { idle: 1 }), MOVE]
    const kinds = kindsOf(phasesOf(handTrace(pieces, { fitted: [...LINE, 'idle'] })))
    expect(kinds[0]).toBe('idle-loaded')
    expect(kinds[2]).toBe('work-holding')
    expect(kinds[4]).toBe('idle-loaded')
  })

  it.each(['loadPressure', 'cycle'] as const)(
    'a hold that passes straight into idle ends with its %s',
    (evidence) => {
      const pieces = [dead(20), MOVE, HOLD, dead(20), MOVE, HOLD, dead(20)]
      mustBe(
        phasesOf(handTrace(pieces, { fitted: [...LINE, evidence] })),
        pieces,
        [
          'idle-loaded',
          'work-moving',
          'work-holding',
          'idle-loaded',
          'work-moving',
          'work-holding',
          'idle-loaded',
        ],
        0,
      )
    },
  )
})

describe('all seven kinds', () => {
  const kinds: PhaseKind[] = [
    'stopped',
    'starting',
    'idle-unloaded',
    'work-moving',
    'work-holding',
    'work-metering',
    'idle-loaded',
    'stopped',
  ]
  const pieces = [OFF, START, UNLOADED, MOVE, HOLD, METER, IDLE, OFF]
  it.each([
    ['line flow and current', LINE],
    ['return flow and current', ['returnFlow', 'current']],
    ['pump and line flow, power', ['pumpFlow', 'systemFlow', 'power']],
    ['every meter', ALL],
    ['pump flow and current', ['pumpFlow', 'current']],
    ['pump pressure and current alone', ['current']],
  ] as const)('with %s', (_name, fitted) => {
    mustBe(phasesOf(handTrace(pieces, { fitted, noise: 0.0005 }), VENTED), pieces, kinds, 0.1)
  })

  it('an open centre unloads through the system line: its flow is no work', () => {
    const machine: Machine = { ...HAND_MACHINE, unloading: { kind: 'open-centre', pressureBar: 5 } }
    const through = { ...UNLOADED, systemLpm: 89.86, returnLpm: 0 }
    const phases = phasesOf(handTrace([through, MOVE, through], { fitted: LINE }), machine)
    expect(kindsOf(phases)).toEqual(['idle-unloaded', 'work-moving', 'idle-unloaded'])
  })

  it('a compensated pump without flow at standby is loaded idle', () => {
    const machine: Machine = { ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' } }
    const standby: Piece = { seconds: 30, bar: 150, systemLpm: 0, returnLpm: 0, kW: 5 }
    const phases = phasesOf(
      handTrace([standby, { ...MOVE, seconds: 20 }, standby], { fitted: ['systemFlow', 'power'] }),
      machine,
    )
    expect(kindsOf(phases)).toEqual(['idle-loaded', 'work-moving', 'idle-loaded'])
  })
})

describe('time', () => {
  it('grows with the samples, not with their square', () => {
    const timed = (cycles: number) => {
      const trace = handTrace(repeat([IDLE, MOVE, METER], cycles), { fitted: LINE, noise: 0.002 })
      let best = Number.POSITIVE_INFINITY
      for (let k = 0; k < 3; k++) {
        const start = performance.now()
        segmented(trace)
        best = Math.min(best, performance.now() - start)
      }
      return best
    }
    timed(30)
    const small = timed(60)
    // Ten times the samples in at most twenty times the time: a square would take a hundred.
    expect(timed(600)).toBeLessThan(20 * small + 20)
  })
})
