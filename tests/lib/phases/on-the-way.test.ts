import { describe, expect, it } from 'vitest'
import { machineModel } from '@/lib/machine/machine-model'
import { segment } from '@/lib/phases/segment'
import { readSensors } from '@/lib/samples/sensors'
import { IDLE, METER, MOVE, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, type Piece, repeat, type TraceHabits } from '../../laws/hand-trace'

/** A reading taken while the pressure went from one level to the next (worked out by hand). */
const VENTED = { ...HAND_MACHINE, unloading: { kind: 'open-centre', pressureBar: 5 } } as const
const way = (bar: number, seconds: number): Piece => ({ ...MOVE, bar, seconds, loadBar: 0, systemLpm: 0 })

function segmented(
  pieces: readonly Piece[],
  habits: TraceHabits,
  machine: typeof VENTED | typeof HAND_MACHINE,
) {
  const trace = handTrace(repeat(pieces, 6), habits)
  return segment(readSensors(trace), trace, machineModel(machine))
}
const kindsOf = (...of: Parameters<typeof segmented>) => segmented(...of).phases.map(({ kind }) => kind)

describe('readings between two levels', () => {
  const sparse: TraceHabits = { fitted: ['pumpFlow', 'power'], rateHz: 1 }

  it('a single one before the relief’s pressure is no metering, and belongs to what it leads to', () => {
    const { phases } = segmented([MOVE, way(150, 1), IDLE], sparse, HAND_MACHINE)
    expect(new Set(phases.map(({ kind }) => kind))).toEqual(new Set(['work-moving', 'idle-loaded']))
    expect(phases[1]).toMatchObject({ kind: 'idle-loaded', startS: 6 })
  })

  it('a single one between two at which no oil moves is no stroke', () => {
    const kinds = kindsOf([{ ...IDLE, seconds: 3 }, way(60, 1), UNLOADED, MOVE], sparse, VENTED)
    expect(kinds.slice(0, 3)).toEqual(['idle-loaded', 'idle-unloaded', 'work-moving'])
  })

  it('a stroke of one sample between an idle and metering stays one', () => {
    const kinds = kindsOf([UNLOADED, { ...MOVE, seconds: 1 }, METER, IDLE], sparse, VENTED)
    expect(kinds.slice(0, 3)).toEqual(['idle-unloaded', 'work-moving', 'work-metering'])
  })

  it('none of them hides a pump that idles a little above its plate’s pressure', () => {
    const falls = [40, 20, 14, 10, 8].map((bar) => way(bar, 0.1))
    const pieces = [MOVE, IDLE, ...falls, { ...UNLOADED, bar: 6.9, systemLpm: 89 }]
    const kinds = kindsOf(pieces, { fitted: ['systemFlow', 'power'], rateHz: 10 }, VENTED)
    expect(kinds.slice(0, 3)).toEqual(['work-moving', 'idle-loaded', 'idle-unloaded'])
  })

  it('noise makes no meter slow', () => {
    const noisy: TraceHabits = { fitted: ['pumpFlow', 'systemFlow', 'power'], rateHz: 2, noise: 0.012 }
    for (let seed = 1; seed <= 20; seed++) {
      const pieces = [UNLOADED, { ...MOVE, seconds: 2 }, METER, { ...MOVE, seconds: 2 }]
      expect(segmented(pieces, { ...noisy, seed }, VENTED).slow).toEqual([])
    }
  })
})
