import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Correction } from '@/lib/contract/corrections'
import { PHASE_KINDS, type Phase } from '@/lib/contract/result'
import { TankwardError } from '@/lib/errors'
import { machineModel } from '@/lib/machine/machine-model'
import { type Segmentation, segment } from '@/lib/phases/segment'
import { readSensors } from '@/lib/samples/sensors'
import { HOLD, IDLE, METER, MOVE, OFF } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, type Piece } from '../../laws/hand-trace'

/**
 * Idle 0–20 s, moving 20–26 s, holding 26–29 s, metering 29–34 s, a gap of 40 s, then the same again from 74 s.
 * What should come out is written down by hand from the rules of lib/phases/corrections.ts.
 */
const CYCLE: readonly Piece[] = [IDLE, MOVE, HOLD, METER]
const trace = handTrace([...CYCLE, { ...IDLE, gapBeforeS: 40 }, MOVE, HOLD, METER, OFF], {
  fitted: ['systemFlow', 'current'],
})
const segmented = (corrections: readonly Correction[] = []): Segmentation =>
  segment(readSensors(trace), trace, machineModel(HAND_MACHINE), corrections)
const plain = segmented()

/** Phases as `kind from–to`, those corrected with a star. */
const said = (phases: readonly Phase[]) =>
  phases.map(
    ({ kind, startS, endS, corrected }) =>
      `${kind} ${startS.toFixed(1)}–${endS.toFixed(1)}${corrected ? '*' : ''}`,
  )
const kindAt = ({ steps }: Segmentation, sample: number) =>
  steps.find(({ from, to }) => from <= sample && sample < to)?.kind

it('the log without corrections is as it is written down', () => {
  expect(said(plain.phases)).toEqual([
    'idle-loaded 0.0–20.0',
    'work-moving 20.0–26.0',
    'work-holding 26.0–29.0',
    'work-metering 29.0–34.0',
    'idle-loaded 74.0–94.0',
    'work-moving 94.0–100.0',
    'work-holding 100.0–103.0',
    'work-metering 103.0–108.0',
    'stopped 108.0–118.0',
  ])
})

describe('a correction', () => {
  it('splits a phase at its ends, and what is outside stays', () => {
    const { phases, corrections } = segmented([{ startS: 5, endS: 12, kind: 'work-holding' }])
    expect(said(phases)).toEqual([
      'idle-loaded 0.0–5.0',
      'work-holding 5.0–12.0*',
      'idle-loaded 12.0–20.0',
      ...said(plain.phases).slice(1),
    ])
    expect(corrections).toHaveLength(1)
    expect(corrections[0].foundS['idle-loaded']).toBeCloseTo(7, 9)
    expect(corrections[0].inForceS).toBeCloseTo(7, 9)
  })

  it('makes a hold that was taken for an idle one phase with the hold beside it', () => {
    const { phases } = segmented([{ startS: 20, endS: 26, kind: 'work-holding' }])
    expect(said(phases)[1]).toBe('work-holding 20.0–29.0*')
  })

  it('gives the halves of a split step readings of their own', () => {
    const { steps } = segmented([{ startS: 3, endS: 25, kind: 'work-metering' }])
    const corrected = steps.filter((step) => step.kind === 'work-metering' && step.to <= 250)
    expect(corrected.map(({ from, to }) => [from, to])).toEqual([
      [30, 200],
      [200, 250],
    ])
    expect(corrected[0].means.pumpPressurePa).toBeCloseTo(160e5, -3)
    expect(corrected[1].means.pumpPressurePa).toBeCloseTo(80e5, -3)
    expect(corrected[0].durationS).toBeCloseTo(17, 9)
  })

  it('bridges no gap', () => {
    const { phases, steps, corrections } = segmented([{ startS: 30, endS: 80, kind: 'stopped' }])
    expect(said(phases).slice(3, 6)).toEqual([
      'work-metering 29.0–30.0',
      'stopped 30.0–34.0*',
      'stopped 74.0–80.0*',
    ])
    expect(steps.filter(({ afterGap }) => afterGap).map(({ from }) => from)).toEqual([0, 340])
    // Ten seconds of samples, forty without.
    expect(corrections[0].foundS['work-metering']).toBeCloseTo(4, 9)
    expect(corrections[0].foundS['idle-loaded']).toBeCloseTo(6, 9)
    expect(corrections[0].inForceS).toBeCloseTo(10, 9)
  })

  it('of an overlapping pair the later wins, and the earlier stays listed', () => {
    const first = { startS: 2, endS: 10, kind: 'work-moving' } as const
    const later = { startS: 6, endS: 14, kind: 'stopped' } as const
    const { phases, corrections } = segmented([first, later])
    expect(said(phases).slice(0, 4)).toEqual([
      'idle-loaded 0.0–2.0',
      'work-moving 2.0–6.0*',
      'stopped 6.0–14.0*',
      'idle-loaded 14.0–20.0',
    ])
    expect(corrections.map(({ kind }) => kind)).toEqual(['work-moving', 'stopped'])
    expect(corrections[0].inForceS).toBeCloseTo(4, 9)
    const covered = segmented([first, { startS: 0, endS: 20, kind: 'starting' }])
    expect(covered.corrections[0]).toMatchObject({ ...first, inForceS: 0 })
    // The middle of an earlier one overridden: both its ends stay in force.
    const middle = segmented([first, { startS: 4, endS: 5, kind: 'stopped' }])
    expect(middle.corrections[0].inForceS).toBeCloseTo(7, 9)
  })

  it('stays what it is whatever the longest hold', () => {
    const corrected = segmented([
      { startS: 26, endS: 29, kind: 'idle-loaded' },
      { startS: 101, endS: 103, kind: 'work-holding' },
    ])
    for (const seconds of [0.1, 5, 15, 30]) {
      const steps = corrected.stepsWithLongestHold(seconds)
      expect(steps.map(({ from, to }) => [from, to])).toEqual(
        corrected.steps.map(({ from, to }) => [from, to]),
      )
      expect(kindAt({ ...corrected, steps }, 270)).toBe('idle-loaded')
      // Sample 620 lies at 102 s, sample 605 at 100.5 s, for 40 s hold no sample.
      expect(kindAt({ ...corrected, steps }, 620)).toBe('work-holding')
      expect(kindAt({ ...corrected, steps }, 605)).toBe(seconds < 3 ? 'idle-loaded' : 'work-holding')
    }
  })

  it.each([
    [{ startS: 110, endS: 118.2, kind: 'stopped' }, 'correction-outside'],
    [{ startS: -1, endS: 5, kind: 'stopped' }, 'correction-outside'],
    [{ startS: 200, endS: 300, kind: 'stopped' }, 'correction-outside'],
    [{ startS: 40, endS: 60, kind: 'stopped' }, 'correction-without-samples'],
    [{ startS: 5.02, endS: 5.06, kind: 'stopped' }, 'correction-without-samples'],
  ] as const)('%o is refused with its place and the log’s length', (wrong, code) => {
    const good = { startS: 0, endS: 118, kind: 'stopped' } as const
    const error = (() => {
      try {
        segmented([good, wrong])
      } catch (caught) {
        return caught
      }
    })()
    expect(error).toBeInstanceOf(TankwardError)
    const { startS, endS } = wrong
    expect(error).toMatchObject({ code, values: { correction: 2, startS, endS } })
    expect((error as TankwardError).values.durationS).toBeCloseTo(118, 9)
  })
})

const anyCorrection = fc
  .tuple(fc.integer({ min: 0, max: 1170 }), fc.integer({ min: 1, max: 400 }), fc.constantFrom(...PHASE_KINDS))
  .map(([from, length, kind]) => ({ startS: from / 10, endS: Math.min(118, (from + length) / 10), kind }))
  .filter(({ startS, endS }) => !(startS >= 34 && endS <= 74))

describe('whatever a person says', () => {
  it('every sample has the kind of the last correction on it, else the one found', () => {
    fc.assert(
      fc.property(fc.array(anyCorrection, { maxLength: 6 }), (corrections) => {
        const got = segmented(corrections)
        expect(got.steps[0].from).toBe(0)
        got.steps.forEach((step, k) => {
          if (k > 0) expect(step.from).toBe(got.steps[k - 1].to)
        })
        expect(got.steps.at(-1)?.to).toBe(trace.timeS.length)
        const wanted = Array.from(trace.timeS, (time, i) => {
          const last = corrections.findLast(({ startS, endS }) => startS <= time + 1e-6 && time < endS - 1e-6)
          return last?.kind ?? kindAt(plain, i)
        })
        expect(got.steps.flatMap(({ from, to, kind }) => Array(to - from).fill(kind))).toEqual(wanted)
        const covered = got.corrections.reduce((sum, { inForceS }) => sum + inForceS, 0)
        const samples = Array.from(trace.timeS).filter((time) =>
          corrections.some(({ startS, endS }) => startS <= time + 1e-6 && time < endS - 1e-6),
        )
        expect(covered).toBeCloseTo(samples.length / 10, 6)
      }),
      { numRuns: 60, seed: 17 },
    )
  })

  it('saying of whole phases what was found leaves all steps and phases as they were', () => {
    const same = plain.phases.map(({ kind, startS, endS }) => ({ kind, startS, endS }))
    const got = segmented(same)
    expect(got.steps).toEqual(plain.steps)
    expect(got.phases).toEqual(plain.phases.map((phase) => ({ ...phase, corrected: true })))
  })
})
