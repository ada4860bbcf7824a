import { describe, expect, it } from 'vitest'
import { accountFor } from '@/lib/ledger/ledger'
import type { FullTrace } from '@/lib/samples/trace'
import { HAND_MACHINE, handFlowLpm } from '../../laws/hand-machine'
import { handTrace, type Piece, repeat } from '../../laws/hand-trace'

/** Strokes, each followed by eight seconds dead-headed: by length alone a hold (shorter than 15 s). */
const PIECES: Piece[] = repeat(
  [
    { seconds: 10, bar: 80, systemLpm: handFlowLpm(80) },
    { seconds: 8, bar: 160, systemLpm: 0 },
  ],
  6,
)
const TRACE = handTrace(PIECES, { fitted: ['systemFlow', 'power'], noise: 0.001, seed: 2 })
const pressure =
  TRACE.channels.find(({ location }) => location === 'pump-outlet')?.values ?? new Float64Array(0)

/** The same with a valve that is energised while dead-headed, or only while moving. */
function withSolenoid(whileDeadHeaded: boolean): FullTrace {
  const values = pressure.map((pa) => (pa > 120e5 === whileDeadHeaded ? 1 : 0))
  const channel = {
    column: 'Y1',
    quantity: 'signal',
    location: 'solenoid',
    unit: '1',
    accuracy: null,
    values,
  } as const
  return { ...TRACE, channels: [...TRACE.channels, channel] }
}
const kindsOf = (trace: FullTrace) =>
  new Set(accountFor(trace, HAND_MACHINE).segmentation.phases.map(({ kind }) => kind))

/** Order of evidence (shared domain rules, section 5): a valve or cycle signal goes before length. */
describe('a valve signal', () => {
  it('tells a hold from a loaded idle before length does', () => {
    expect(kindsOf(TRACE)).toEqual(new Set(['work-moving', 'work-holding']))
    expect(kindsOf(withSolenoid(false))).toEqual(new Set(['work-moving', 'idle-loaded']))
    expect(kindsOf(withSolenoid(true))).toEqual(new Set(['work-moving', 'work-holding']))
  })
})
